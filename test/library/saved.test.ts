import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { key, keyName } from '../../core/foundation/key.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { MODE_NAMES } from '../../core/foundation/key.ts';
import { LETTERS } from '../../core/foundation/pitch.ts';
import { canonicalJson } from '../../core/library/canonicalJson.ts';
import { FINEST_GRID, MOST_SECONDS } from '../../core/library/limits.ts';
import { decodeSaved, encodeSaved } from '../../core/library/saved.ts';
import { correct } from '../../core/piece/edit.ts';
import type { Piece } from '../../core/piece/piece.ts';
import { anyStatements } from './anyStatement.ts';
import {
  fullPiece,
  pieceOfVersion3,
  pieceOfVersion6,
  pieceOfVersion7,
  pieceOfVersion8,
  pieceOfVersion9,
  pieceOfVersion10,
  pieceOfVersion12,
  pieceOfVersion13,
  pieceOfVersion19,
  pieceOfVersion20,
  sha256,
} from './pieces.ts';
import { openedFile, savedAndOpened, stamped } from './savedAndOpened.ts';

const finite = fc.double({ noNaN: true, min: -MOST_SECONDS, max: MOST_SECONDS }).map(n => n || 0);
const places = fc
  .tuple(fc.integer({ min: -400, max: 400 }), fc.integer({ min: 1, max: 96 }))
  // Elevenths are on no page.
  .filter(([, d]) => FINEST_GRID % d === 0)
  .map(([n, d]) => fraction(n, d));
const pitches = fc.integer({ min: 0, max: 127 });
const noteNames = fc.record(
  { letter: fc.constantFrom(...LETTERS), alter: fc.integer({ min: -2, max: 2 }) },
  { noNullPrototype: true },
);
const texts = fc.string({ unit: 'binary', maxLength: 30 });
const pieces: fc.Arbitrary<Piece> = fc
  .record({
    title: texts,
    codeName: texts,
    reason: texts,
    strikes: fc.array(
      fc.record(
        { at: finite, pitch: pitches, velocity: fc.integer({ min: 1, max: 127 }), until: finite },
        { noNullPrototype: true, requiredKeys: ['at', 'pitch', 'velocity'] },
      ),
    ),
    taps: fc.option(fc.array(finite), { nil: undefined }),
    notes: fc.array(
      fc.record(
        {
          // What begins long before an upbeat is not drawn.
          onset: places.filter(({ n, d }) => n > -8 * d),
          duration: places.filter(one => one.n > 0),
          pitch: pitches,
          strike: fc.integer({ min: -1, max: 500 }),
          doubt: finite,
          elsewhere: fc.array(places),
          grace: fc.record({ strike: fc.nat({ max: 500 }), pitch: pitches }, { noNullPrototype: true }),
          name: noteNames,
        },
        { noNullPrototype: true, requiredKeys: ['onset', 'duration', 'pitch', 'strike', 'doubt'] },
      ),
    ),
    mode: fc.constantFrom(...MODE_NAMES),
    respelled: fc.array(fc.record({ note: fc.nat({ max: 9 }), name: noteNames }, { noNullPrototype: true })),
    joined: fc.boolean(),
    withPlan: fc.boolean(),
    statements: anyStatements,
    chosen: fc.boolean(),
  })
  .map(
    ({
      title,
      codeName,
      reason,
      strikes,
      taps,
      notes,
      mode,
      withPlan,
      chosen,
      respelled,
      joined,
      statements,
    }) => {
      const { plan, ...rest } = fullPiece('law', title);
      return {
        ...rest,
        codeName,
        keyChosen: chosen,
        edits: [...rest.edits, ...respelled.map(one => ({ kind: 'respell' as const, ...one }))],
        ...(joined ? { motifBars: { from: 1, to: 2, joined } as const } : {}),
        take: { ...rest.take, strikes },
        hints: taps === undefined ? {} : { taps },
        reading: { ...rest.reading, reason, notes },
        key: { ...rest.key, mode },
        ...(withPlan && plan !== undefined
          ? { plan: { ...plan, statements: [...plan.statements, ...statements] } }
          : {}),
      };
    },
  );

describe('a saved file', () => {
  it('law: what is saved is what is opened', async () => {
    await fc.assert(
      fc.asyncProperty(pieces, async piece => {
        expect(await savedAndOpened(piece)).toStrictEqual({ ok: true, value: stamped(piece) });
      }),
    );
  });

  it('law: no bytes at all make it throw', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.oneof(
          fc.uint8Array(),
          fc.json().map(text => new TextEncoder().encode(text)),
        ),
        async bytes => {
          expect(await decodeSaved(bytes, 'x.json', sha256)).toMatchObject({
            ok: false,
            problem: { kind: 'damaged-file' },
          });
        },
      ),
    );
  });

  it('law: one byte of the music changed is always noticed', async () => {
    const bytes = await encodeSaved(stamped(fullPiece()), sha256);
    if (!bytes.ok) throw new Error(bytes.problem.what);
    const text = new TextDecoder().decode(bytes.value);
    const from = text.indexOf('"piece":') + 8;
    const to = text.indexOf(',"revision":');
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: from, max: to - 1 }),
        fc.integer({ min: 1, max: 255 }),
        async (at, by) => {
          const spoilt = bytes.value.slice();
          spoilt[at] = (spoilt[at] ?? 0) ^ by;
          const read = await decodeSaved(spoilt, 'x.json', sha256);
          // A changed byte may spell the same data another way (E for e, a blank); then nothing is lost.
          if (read.ok) expect(read.value.piece).toEqual(fullPiece());
          else expect(read.problem.kind).toBe('damaged-file');
        },
      ),
    );
  });

  it('refuses to write what it could not read back', async () => {
    const piece = fullPiece();
    const odd = { ...piece, reading: { ...piece.reading, misfit: NaN } };
    expect(await encodeSaved(stamped(odd), sha256)).toMatchObject({
      ok: false,
      problem: { kind: 'bad-request' },
    });
    const unknown = { ...piece, colour: 'red' } as Piece;
    expect(await encodeSaved(stamped(unknown), sha256)).toMatchObject({ ok: false });
  });

  it.each([1, 2])('opens the stored file piece-v%i.json, now and always', async version => {
    const piece = await openedFile(version);
    expect(piece).toEqual(fullPiece());
    expect(correct(piece.reading, piece.edits).notes.length).toBeGreaterThan(0);
  });

  it.each([3, 4])('opens piece-v%i.json, with what that could say', async version => {
    expect(await openedFile(version)).toEqual(pieceOfVersion3());
  });

  it('opens piece-v6.json, with its marks', async () => {
    const piece = await openedFile(6);
    expect(piece).toMatchObject(pieceOfVersion6());
    expect(piece.plan).not.toHaveProperty('keys');
  });

  it('opens piece-v7.json, about which nobody could say anything yet', async () => {
    const piece = await openedFile(7);
    expect(piece).toMatchObject(pieceOfVersion7());
    expect(piece).not.toHaveProperty('assessment');
  });

  it('keeps what pupil and teacher said, and refuses more than a sheet of it', async () => {
    const assessment = {
      answers: [{ to: 'Why?', words: 'Because\n♭ & <so>.' }],
      judgements: [{ criterion: 'The idea', words: 'clear' }],
      feedback: 'Go on.',
    };
    const piece = { ...fullPiece(), assessment };
    expect(await savedAndOpened(piece)).toStrictEqual({ ok: true, value: stamped(piece) });
    const tooLong = { ...assessment, feedback: 'a'.repeat(4001) };
    const tooMany = { ...assessment, answers: Array(21).fill(assessment.answers[0]) };
    for (const bad of [tooLong, tooMany, { ...assessment, mark: 9 }])
      expect(await savedAndOpened({ ...piece, assessment: bad })).toMatchObject({ ok: false });
  });

  it('opens piece-v8.json, with what was said of it', async () => {
    expect(await openedFile(8)).toMatchObject(pieceOfVersion8());
  });

  it('opens piece-v9.json, with its marks on single notes and no mallets', async () => {
    expect(await openedFile(9)).toStrictEqual(pieceOfVersion9());
  });

  it('keeps mallets, and refuses what is none', async () => {
    expect(await savedAndOpened(pieceOfVersion10())).toStrictEqual({
      ok: true,
      value: stamped(pieceOfVersion10()),
    });
    const odd = { ...pieceOfVersion10(), mallet: 'brick' } as unknown as Piece;
    expect(await savedAndOpened(odd)).toMatchObject({ ok: false });
  });

  it.each([
    {
      name: 'piece-v12.json, in which no strike was in doubt, and keeps what one may have been',
      old: [12, pieceOfVersion12()],
      kept: pieceOfVersion13(),
      bad: [128, -1, 1e9, 60.5].map(nextBest => ({ nextBest })),
    },
    {
      name: 'piece-v18.json, in which every strike was the pupil’s, and keeps which may not be',
      old: [18, pieceOfVersion13()],
      kept: pieceOfVersion19(),
      bad: [false, 1, 'true', null].map(perhapsNone => ({ perhapsNone })),
    },
  ] as const)('opens $name', async ({ old: [version, piece], kept, bad }) => {
    expect(await openedFile(version)).toStrictEqual(piece);
    expect(await savedAndOpened(kept)).toStrictEqual({ ok: true, value: stamped(kept) });
    for (const more of bad) {
      const take = { ...kept.take, strikes: kept.take.strikes.map(s => ({ ...s, ...more })) };
      expect(await savedAndOpened({ ...kept, take } as Piece)).toMatchObject({ ok: false });
    }
  });

  it('opens piece-v19.json, whose corrections were all made by hand, and keeps which the ear made', async () => {
    expect(await openedFile(19)).toStrictEqual(pieceOfVersion19());
    const kept = pieceOfVersion20();
    expect(await savedAndOpened(kept)).toStrictEqual({ ok: true, value: stamped(kept) });
    for (const heard of [false, 1, 'true', null, NaN]) {
      const edits = kept.edits.map(edit => ({ ...edit, heard }));
      expect(await savedAndOpened({ ...kept, edits } as unknown as Piece)).toMatchObject({ ok: false });
    }
    const rest = [{ kind: 'rest', note: 0, heard: true }] as unknown as Piece['edits'];
    expect(await savedAndOpened({ ...kept, edits: rest })).toMatchObject({ ok: false });
  });

  it('keeps other keys from a bar on', async () => {
    expect(await savedAndOpened(pieceOfVersion7())).toStrictEqual({
      ok: true,
      value: stamped(pieceOfVersion7()),
    });
  });

  it('has the sum that node:crypto gives the canonical text (SHA-256, FIPS 180-4)', async () => {
    const bytes = await encodeSaved(stamped(fullPiece()), sha256);
    if (!bytes.ok) throw new Error(bytes.problem.what);
    const file = JSON.parse(new TextDecoder().decode(bytes.value)) as { sha256: string; piece: unknown };
    const sum = createHash('sha256').update(canonicalJson(file.piece), 'utf8').digest('hex');
    expect(file.sha256).toBe(sum);
  });
});

test('what was played to a piece and kept comes back as it was', async () => {
  const { take } = fullPiece();
  const playings = [
    {
      id: 'k1',
      first: 0,
      last: 3,
      speed: 0.8,
      parts: [{ part: 'p1', instrument: 'xylophone' as const, take }],
    },
  ];
  const piece = { ...pieceOfVersion3(), playings };
  expect(await savedAndOpened(piece)).toMatchObject({ ok: true, value: { piece: { playings } } });
});

test('a piece kept in a key no page can hold opens in its plainest spelling', async () => {
  const odd = { ...fullPiece(), key: key('D', 'minor', -1) };
  const bytes = await encodeSaved(stamped(odd), sha256);
  if (!bytes.ok) throw new Error(bytes.problem.what);
  const read = await decodeSaved(bytes.value, 'x.json', sha256);
  expect(read.ok && keyName(read.value.piece.key)).toBe('C♯ minor');
});
