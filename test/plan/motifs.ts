import fc from 'fast-check';
import { add, type Fraction, fraction, less, toNumber } from '../../core/foundation/fraction.ts';
import { key, toScale } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { midiOf } from '../../core/foundation/pitch.ts';
import type { Motif } from '../../core/motif/motif.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';

const C = key('C');

/** An invented one-bar idea in 4/4: syncopated, five notes. */
export const IDEA: Motif = {
  key: C,
  metre: metre(4, 4),
  length: fraction(1),
  notes: (
    [
      [0, 1, 72],
      [1, 2, 76],
      [3, 2, 79],
      [5, 1, 76],
      [6, 2, 74],
    ] as const
  ).map(([at, length, pitch]) => ({
    onset: fraction(at, 8),
    duration: fraction(length, 8),
    ...toScale(C, pitch),
  })),
};

/** Everything a plan sounds: part, place and pitch of each note, in order. */
export const sounds = (motif: Motif, plan: Plan): readonly { part: string; at: Fraction; pitch: number }[] =>
  plan.statements
    .flatMap(s =>
      notesOfStatement(motif, s).map(n => ({ part: s.part, at: n.onset, pitch: midiOf(n.pitch) })),
    )
    .sort((a, b) => toNumber(a.at) - toNumber(b.at) || a.part.localeCompare(b.part) || a.pitch - b.pitch);

export const asText = (notes: readonly { part: string; at: Fraction; pitch: number }[]): string[] =>
  notes.map(n => `${n.part} ${String(toNumber(n.at))} ${String(n.pitch)}`);

/** Plans of two parts with a few statements that do not overlap in their part. */
export const plans: fc.Arbitrary<Plan> = fc
  .array(
    fc.record({
      part: fc.constantFrom('p1', 'p2'),
      gap: fc.integer({ min: 0, max: 6 }),
      times: fc.integer({ min: 1, max: 4 }),
      treatment: fc.constantFrom('none', 'up', 'retrograde', 'diminish'),
    }),
    { minLength: 1, maxLength: 5 },
  )
  .map(all => {
    const free: Record<string, Fraction> = { p1: fraction(0), p2: fraction(0) };
    const statements = all.map((s, i) => {
      const at = add(free[s.part] ?? fraction(0), fraction(s.gap, 4));
      const length = s.treatment === 'diminish' ? fraction(s.times, 2) : fraction(s.times);
      free[s.part] = add(at, length);
      return {
        id: `s${String(i + 1)}`,
        part: s.part,
        onset: at,
        times: s.times,
        chain:
          s.treatment === 'none'
            ? []
            : s.treatment === 'up'
              ? [{ kind: 'transpose' as const, by: 'scale' as const, steps: 2 }]
              : s.treatment === 'retrograde'
                ? [{ kind: 'retrograde' as const }]
                : [{ kind: 'diminish' as const, factor: fraction(2) }],
      };
    });
    return {
      parts: [
        { id: 'p1', instrument: 'xylophone' as const },
        { id: 'p2', instrument: 'marimba' as const },
      ],
      statements,
      tempo: 90,
      letters: [],
      nextId: 20,
    };
  });

export const inside = (at: Fraction, from: Fraction, to: Fraction): boolean =>
  !less(at, from) && less(at, to);
