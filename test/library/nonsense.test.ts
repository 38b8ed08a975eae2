import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fraction, toNumber } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { canonicalJson } from '../../core/library/canonicalJson.ts';
import { askedWords, factsHaveWords } from '../../core/library/find.ts';
import { MOST_STORED_BARS, MOST_BYTES, MOST_SOUNDING } from '../../core/library/limits.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { VERSION } from '../../core/library/migrations.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { depthOf } from '../../core/library/withinReach.ts';
import { motifOf, planOf, type Piece } from '../../core/piece/piece.ts';
import { statementLength } from '../../core/plan/statement.ts';
import { barePiece, countingTools, fullPiece, sha256 } from './pieces.ts';

// Files whose sum is right and whose fields have the right shapes, and that no Malletloom wrote: one of
// them must never take the register away, and none may ask for more than a view can draw.

const fileOf = async (piece: unknown, id = 'bad', revision = 'r1'): Promise<Uint8Array> =>
  new TextEncoder().encode(
    canonicalJson({
      format: 'malletloom-piece',
      version: VERSION,
      id,
      revision,
      parents: [],
      savedAt: '2026-01-05T09:00:00.000Z',
      sha256: await sha256(new TextEncoder().encode(canonicalJson(piece))),
      piece,
    }),
  );

const besideGood = async (bytes: Uint8Array): ReturnType<ReturnType<typeof openLibrary>['shelf']> => {
  const files = new Map<string, Uint8Array>();
  await openLibrary(memoryFolder(files), countingTools()).save(barePiece('good'), []);
  files.set('items/bad/r1.json', bytes);
  return openLibrary(memoryFolder(files), countingTools(50)).shelf();
};

const refusedFor = async (piece: unknown): Promise<string> => {
  const shelf = await besideGood(await fileOf(piece));
  if (!shelf.ok) throw new Error(shelf.problem.what);
  expect(shelf.value.entries.map(entry => entry.id)).toEqual(['good']);
  return shelf.value.damaged[0]?.detail ?? 'not refused';
};

const bad = fullPiece('bad');
const firstNote = { onset: fraction(0), duration: fraction(1, 8), pitch: 60, strike: 0, doubt: 0 };
const reading = (change: Partial<Piece['reading']>): Piece => ({
  ...bad,
  reading: { ...bad.reading, ...change },
});
const firstStatement = (change: object): Piece => {
  const plan = planOf(bad);
  return {
    ...bad,
    plan: { ...plan, statements: plan.statements.map((s, i) => (i === 0 ? { ...s, ...change } : s)) },
  };
};

const keys = (all: readonly object[]): unknown => ({ ...bad, plan: { ...planOf(bad), keys: all } });

describe('a file no Malletloom wrote', () => {
  it.each([
    ['an onset of 2^53', reading({ notes: [{ ...firstNote, onset: { n: 2 ** 53, d: 1 } }] }), /onset/],
    ['an upbeat of a thousand million bars', reading({ upbeat: { n: 1e9, d: 1 } }), /upbeat/],
    ['an upbeat before nothing', reading({ upbeat: fraction(-1, 4) }), /upbeat/],
    ['a statement stated ten million times', firstStatement({ times: 1e7 }), /times/],
    [
      'a statement stated often, and long',
      firstStatement({ times: 999, chain: [{ kind: 'augment', factor: fraction(64) }] }),
      /last bar/,
    ],
    [
      'a statement made a hundred times faster, again and again',
      firstStatement({
        chain: Array.from({ length: 12 }, () => ({ kind: 'diminish', factor: fraction(60) })),
      }),
      /stretched/,
    ],
    [
      'a hundred thousand bars of a semiquaver',
      reading({ metre: metre(1, 16), notes: [{ ...firstNote, onset: fraction(8_000) }] }),
      /last bar/,
    ],
    [
      'an upbeat of a hundred thousand bars',
      reading({ metre: metre(1, 16), upbeat: fraction(8_000) }),
      /upbeat of no bar/,
    ],
    [
      'a statement stretched a hundredfold, again and again',
      firstStatement({
        chain: Array.from({ length: 12 }, () => ({ kind: 'augment', factor: fraction(60) })),
      }),
      /stretched/,
    ],
    [
      'a note changed by hand, with a length, far beyond the last bar',
      firstStatement({
        detached: [{ onset: fraction(8_192), duration: fraction(1, 4), degree: 28, alter: 0 }],
      }),
      /a note beyond the last bar/,
    ],
    [
      'notes made no length at all',
      firstStatement({ chain: [{ kind: 'augment', factor: fraction(0) }] }),
      /no augmentation/,
    ],
    [
      'notes made 65 times as long',
      firstStatement({ chain: [{ kind: 'augment', factor: fraction(65) }] }),
      /no augmentation/,
    ],
    [
      'notes made 65 times as short',
      firstStatement({ chain: [{ kind: 'augment', factor: fraction(1, 65) }] }),
      /no augmentation/,
    ],
    [
      'more ornaments than can be written out, each statement short',
      firstStatement({
        times: 999,
        chain: Array.from({ length: 20 }, () => ({
          kind: 'ornament',
          ornaments: [0, 1].map(note => ({ note, figure: 'upper' })),
        })),
      }),
      /more notes/,
    ],
    ['a statement in no part', firstStatement({ part: 'p9' }), /not there/],
    [
      'a note without length',
      reading({ notes: [{ ...firstNote, duration: fraction(0) }] }),
      /without length/,
    ],
    ['a tempo of nearly nothing', reading({ tempo: 1e-12 }), /tempo/],
    ['a key a thousand octaves up', keys([{ bar: 1, moved: 12_000 }]), /keys/],
    ['a key half a semitone up', keys([{ bar: 1, moved: 0.5 }]), /keys/],
    ['a key before the first bar', keys([{ bar: 0, moved: 7 }]), /keys/],
    ['a key in the bar 2^53', keys([{ bar: 2 ** 53, moved: 7 }]), /keys/],
    ['a key of eight sharps', keys([{ bar: 1, signature: key('G', 'major', 1) }]), /keys/],
    ['another key and no signature', keys([{ bar: 1 }]), /keys/],
    ['a key moved and signed', keys([{ bar: 1, moved: 7, signature: key('G') }]), /keys/],
    [
      'more keys than a piece has letters',
      keys(Array.from({ length: 101 }, (_, i) => ({ bar: i + 1, moved: 1 + (i % 2) }))),
      /keys/,
    ],
    [
      'a mark in the thousand millionth time through',
      firstStatement({ noteMarks: [{ time: 1e9, note: 0, mark: 'roll' }] }),
      /noteMarks/,
    ],
    [
      'a mark on half a note',
      firstStatement({ noteMarks: [{ time: 0, note: 0.5, mark: 'roll' }] }),
      /noteMarks/,
    ],
    [
      'a mark on the note 2^53',
      firstStatement({ noteMarks: [{ time: 0, note: 2 ** 53, mark: 'ring' }] }),
      /noteMarks/,
    ],
    ['a mark nobody knows', firstStatement({ noteMarks: [{ time: 0, note: 0, mark: 'loop' }] }), /noteMarks/],
    ['a title as long as a book', { ...bad, title: 'x'.repeat(2_000_000) }, /title/],
    ['twenty million milliseconds of latency', { ...bad, take: { ...bad.take, latency: 2e7 } }, /latency/],
    ['taps at the end of the world', { ...bad, hints: { taps: [0, 1e300] } }, /taps/],
    [
      'more corrections than anybody makes',
      { ...bad, edits: Array.from({ length: 5_001 }, () => ({ kind: 'delete', note: 0 })) },
      /edits/,
    ],
  ])('%s is refused with the reason', async (_, piece, reason) => {
    expect(await refusedFor(piece)).toMatch(reason);
  });

  it('a statement made slower and as much faster again is honest', async () => {
    const there = Array.from({ length: 5 }, () => ({ kind: 'augment', factor: fraction(4) }));
    const back = there.map(one => ({ ...one, kind: 'diminish' }));
    const shelf = await besideGood(await fileOf(firstStatement({ chain: [...there, ...back] })));
    expect(shelf.ok && shelf.value.damaged).toEqual([]);
  });

  it('brackets in brackets in brackets are refused before they are parsed', async () => {
    for (const text of [`${'['.repeat(3000)}${']'.repeat(3000)}`, '['.repeat(100_000)]) {
      const shelf = await besideGood(new TextEncoder().encode(text));
      if (!shelf.ok) throw new Error(shelf.problem.what);
      expect(shelf.value.entries.map(entry => entry.id)).toEqual(['good']);
      expect(shelf.value.damaged[0]?.detail).toMatch(/nested/);
    }
    expect(depthOf('{"a":"[[[\\"[[","b":[{"c":[]}]}')).toBe(4);
  });

  it('a file larger than any piece is refused unread', async () => {
    const shelf = await besideGood(new Uint8Array(MOST_BYTES + 1).fill(32));
    if (!shelf.ok) throw new Error(shelf.problem.what);
    expect(shelf.value.entries.map(entry => entry.id)).toEqual(['good']);
    expect(shelf.value.damaged[0]?.kind).toBe('too-large');
  });

  it('law: figures changed at random in a good file never hide its neighbour, nor ask for more than can be drawn', async () => {
    const good = JSON.stringify(bad);
    const figures = [...good.matchAll(/(?<=[:[,])-?\d+(\.\d+)?(?=[,}\]])/g)];
    const nonsense = fc.oneof(
      fc.integer(),
      fc.integer({ min: -40, max: 400 }),
      fc.double({ noNaN: true, noDefaultInfinity: true }),
      fc.constantFrom(0, -1, 2 ** 31, 2 ** 53 - 1, 1e9, 127, 999),
    );
    const changes = fc.array(fc.tuple(fc.nat(figures.length - 1), nonsense), { minLength: 1, maxLength: 4 });
    let opened = 0;
    await fc.assert(
      fc.asyncProperty(changes, async all => {
        const at = new Map(all);
        let text = '';
        let end = 0;
        figures.forEach((figure, i) => {
          text += good.slice(end, figure.index) + (at.has(i) ? JSON.stringify(at.get(i)) : figure[0]);
          end = figure.index + figure[0].length;
        });
        const bytes = await fileOf(JSON.parse(text + good.slice(end)));
        const shelf = await besideGood(bytes);
        if (!shelf.ok) throw new Error(shelf.problem.what);
        expect(shelf.value.entries.map(entry => entry.id)).toContain('good');
        expect(shelf.value.entries.length + shelf.value.damaged.length).toBe(2);
        const entry = shelf.value.entries.find(one => one.id === 'bad');
        if (entry === undefined) return;
        opened++;
        // What the register asks of a piece at once.
        expect(factsHaveWords(entry.facts, askedWords(entry.facts.codeName))).toBe(true);
        const library = openLibrary(memoryFolder(new Map([['items/bad/r1.json', bytes]])), countingTools());
        const read = await library.open('bad', entry.revision);
        if (!read.ok) throw new Error(read.problem.what);
        const piece = read.value;
        const motif = motifOf(piece);
        const { statements } = planOf(piece);
        const bars = toNumber(
          piece.reading.notes.reduce(
            (most, n) => (toNumber(n.onset) > toNumber(most) ? n.onset : most),
            fraction(0),
          ),
        );
        expect(bars).toBeLessThanOrEqual(MOST_STORED_BARS * 24);
        for (const statement of statements)
          expect(toNumber(statementLength(motif, statement))).toBeLessThanOrEqual(MOST_SOUNDING);
      }),
      { numRuns: 1000, seed: 10 },
    );
    expect(opened).toBeGreaterThan(100);
  });
});
