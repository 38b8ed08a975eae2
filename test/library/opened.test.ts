import { describe, expect, it } from 'vitest';
import { composingLog } from '../../core/evidence/composingLog.ts';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { standardMidi } from '../../core/exchange/standardMidi.ts';
import { textScore } from '../../core/exchange/textScore.ts';
import { fraction } from '../../core/foundation/fraction.ts';
import { metre } from '../../core/foundation/metre.ts';
import { factsOf } from '../../core/library/facts.ts';
import { decodeSaved, encodeSaved } from '../../core/library/saved.ts';
import { motifOf, type Piece, pieceScore, planOf, readingScore } from '../../core/piece/piece.ts';
import { perform } from '../../core/playback/perform.ts';
import { MOST_KEYS, MOST_METRES } from '../../core/plan/keys.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { writtenStep } from '../../core/score/writtenStep.ts';
import { mutated } from './mutated.ts';
import { pieceOfVersion14, sha256 } from './pieces.ts';

const kept = (piece: Piece) => ({
  id: piece.id,
  revision: 'r1',
  parents: [],
  savedAt: '2026-01-05T09:00:00.000Z',
  piece,
});
/** The piece as it opens; the reason where it does not. */
const opened = async (piece: Piece): Promise<Piece | string> => {
  const bytes = await encodeSaved(kept(piece), sha256);
  const read = bytes.ok ? await decodeSaved(bytes.value, 'test.json', sha256) : bytes;
  return read.ok ? read.value.piece : (read.problem.detail ?? read.problem.what);
};
const full = pieceOfVersion14();
const withPlan = (change: (plan: Plan) => Partial<Plan>): Piece => {
  const plan = planOf(full);
  return { ...full, plan: { ...plan, ...change(plan) } };
};
const lastStatement = (change: object): Piece =>
  withPlan(({ statements }) => ({
    statements: statements.map((s, i) => (i === statements.length - 1 ? { ...s, ...change } : s)),
  }));

/** Seeded, so that a failure comes again (Numerical Recipes' quick generator; from memory). */
const chances = (seed: number): (() => number) => {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) % 2 ** 32;
    return state / 2 ** 32;
  };
};

describe('whatever opens', () => {
  it('can be drawn, put into words, played and handed on: mutated pieces', async () => {
    const chance = chances(12);
    let open = 0;
    let refused = 0;
    while (open < 70) {
      const piece = mutated(full, chance);
      if (piece === undefined) continue;
      const read = await opened(piece);
      if (typeof read === 'string') {
        refused++;
        continue;
      }
      open++;
      for (const score of [pieceScore(read), readingScore(read)]) {
        expect(textScore(score).length).toBeGreaterThan(score.barCount);
        expect(perform(score).duration).toBeGreaterThan(0);
        expect(musicXml(score)).toContain('</score-partwise>');
        expect(standardMidi(score).length).toBeGreaterThan(20);
      }
      expect(composingLog(read, () => 'a day').length).toBeGreaterThan(0);
      expect(factsOf(read).title).toBe(read.title);
    }
    expect(refused).toBeGreaterThan(0);
  });

  it.each([
    [
      'a statement at nearly 2^26 parts of a semibreve',
      lastStatement({ onset: { n: 2 ** 26 - 1, d: 2 ** 26 - 3 } }),
    ],
    ['one in elevenths', lastStatement({ onset: fraction(1, 11) })],
    [
      'one that is in thirteenths when it is made faster',
      lastStatement({ chain: [{ kind: 'diminish', factor: fraction(13) }] }),
    ],
    [
      'one whose treatments take no exact figures',
      lastStatement({
        chain: Array.from({ length: 60 }, (_, i) => ({
          kind: 'augment',
          factor: i % 2 === 0 ? fraction(61, 59) : fraction(59, 53),
        })),
      }),
    ],
    [
      'one whose length is on a page and whose notes are not',
      lastStatement({
        accompaniment: { kind: 'drone', figure: 'simple', steps: [21, 25] },
        chain: [
          { kind: 'diminish', factor: fraction(13) },
          { kind: 'fragment', from: fraction(0), to: fraction(1) },
        ],
      }),
    ],
    ['one that begins hundreds of bars before the first', lastStatement({ onset: fraction(-512) })],
    [
      'a swing of no note value',
      { ...full, reading: { ...full.reading, swing: { ratio: 2, unit: fraction(0) } } },
    ],
    [
      'a swing of a long note',
      { ...full, reading: { ...full.reading, swing: { ratio: 2, unit: fraction(2) } } },
    ],
  ])('is not %s', async (_, piece) => {
    expect(typeof (await opened(piece))).toBe('string');
    // Nor is it kept, for the file would hide the work.
    const bytes = await encodeSaved(kept(piece), sha256);
    expect(bytes.ok ? 'kept' : bytes.problem.kind).toBe('bad-request');
  });

  it('is what a page may have: sevens within fives, an upbeat of a bar, and a swung semiquaver', async () => {
    const pieces = [
      lastStatement({ onset: fraction(40 * 35 + 1, 35) }),
      lastStatement({ onset: fraction(-1, 2) }),
      { ...full, reading: { ...full.reading, swing: { ratio: 1.4, unit: fraction(1, 16) } } },
    ];
    for (const piece of pieces) expect(await opened(piece)).toEqual(piece);
  });

  it('is an idea that got an upbeat under a statement as slow as can be', async () => {
    const { reading, motifBars: _, ...rest } = full;
    const notes = [-3, -2, -1, 0, 1, 2, 3].map(at => ({
      onset: fraction(at, 4),
      duration: fraction(1, 4),
      pitch: 60,
      strike: at + 3,
      doubt: 0,
    }));
    const base = firstPlan('marimba', 90);
    const augment = { kind: 'augment', factor: fraction(4) } as const;
    for (const slower of [1, 2, 3]) {
      const piece: Piece = {
        ...rest,
        edits: [],
        reading: { ...reading, metre: metre(4, 4), upbeat: fraction(3, 4), notes },
        plan: {
          ...base,
          statements: base.statements.map(s => ({
            ...s,
            chain: Array.from({ length: slower }, () => augment),
          })),
        },
      };
      expect(await opened(piece)).toEqual(piece);
      expect(musicXml(pieceScore(piece))).toContain('</score-partwise>');
    }
  });

  it('stays so: a change of metre or key more than can be kept is refused in a sentence', async () => {
    const metres = Array.from({ length: MOST_METRES }, (_, i) => ({
      bar: 400 + i,
      metre: metre(2 + (i % 2), 4),
    }));
    const keys = Array.from({ length: MOST_KEYS }, (_, i) => ({ bar: 400 + i, moved: 1 + (i % 2) }));
    const motif = motifOf(full);
    const base = firstPlan('marimba', 90);
    const twice = { ...base, statements: base.statements.map(s => ({ ...s, times: 4 })) };
    const far = { ...twice, metres, keys };
    expect(await opened({ ...full, plan: far })).not.toBeTypeOf('string');
    for (const step of [
      { kind: 'metre', statement: 's1', bar: 2, to: metre(3, 4) },
      { kind: 'key', statement: 's1', bar: 2, to: { moved: 5 } },
    ] as const) {
      const more = writtenStep(motif, far, step);
      expect(more.ok ? '' : more.problem.what).toBe(
        'A piece has 100 changes of key and 400 of metre at the most.',
      );
      // What is beyond already may be brought back.
      expect(writtenStep(motif, twice, step).ok).toBe(true);
    }
  });
});
