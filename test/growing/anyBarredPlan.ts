import fc from 'fast-check';
import { add, fraction, type Fraction, times, ZERO } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { barLength, type Metre, METRES_TO_CHOOSE, tactus } from '../../core/foundation/metre.ts';
import { letteredAt } from '../../core/growing/letters.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import type { Statement } from '../../core/plan/statement.ts';

/** A piece of random sections: an idea of a bar, three parts, letters, keys and tempi at barlines. */
export interface BarredPiece {
  readonly motif: Motif;
  readonly plan: Plan;
}

/** A tune through a bar: notes of whole tactus beats or halves of them, one after the other, an upbeat or none. */
const motifIn = (metre: Metre, halves: readonly boolean[], upbeat: boolean): Motif => {
  const beat = tactus(metre);
  const count = (barLength(metre).n * beat.d) / (barLength(metre).d * beat.n);
  const lengths = Array.from({ length: count }, (_, i) =>
    halves[i % halves.length] === true
      ? [times(beat, 1), ZERO]
      : [fraction(beat.n, beat.d * 2), fraction(beat.n, beat.d * 2)],
  ).flat();
  const shift = upbeat && count > 1 ? fraction(-beat.n, beat.d) : ZERO;
  let at: Fraction = shift;
  const notes = lengths.flatMap((duration, i) => {
    if (duration.n === 0) return [];
    const note = { onset: at, duration, degree: 28 + (i % 7), alter: 0 };
    at = add(at, duration);
    return [note];
  });
  const own = { key: key('C'), metre, length: barLength(metre), notes };
  return shift.n < 0 ? { ...own, upbeat: beat } : own;
};

export const anyMetre = fc.constantFrom(...METRES_TO_CHOOSE);

/** Sections of one to three bars, each with statements of its own in some parts. */
export const anyBarredPiece: fc.Arbitrary<BarredPiece> = fc
  .record({
    metre: anyMetre,
    halves: fc.array(fc.boolean(), { minLength: 1, maxLength: 5 }),
    upbeat: fc.boolean(),
    sections: fc.array(
      fc.record({
        bars: fc.integer({ min: 1, max: 3 }),
        parts: fc.subarray(['p1', 'p2', 'p3'], { minLength: 1 }),
        tempo: fc.option(fc.integer({ min: 40, max: 200 }), { nil: undefined }),
        moved: fc.option(fc.constantFrom(2, -5, 7), { nil: undefined }),
        letter: fc.boolean(),
      }),
      { minLength: 2, maxLength: 4 },
    ),
  })
  .map(({ metre, halves, upbeat, sections }) => {
    const motif = motifIn(metre, halves, upbeat);
    const statements: Statement[] = [];
    const lettered: number[] = [];
    const tempi: { bar: number; tempo: number }[] = [];
    const keys: { bar: number; moved: number }[] = [];
    let bar = 0;
    for (const { bars, parts, tempo, moved, letter } of sections) {
      for (const part of parts)
        statements.push({
          id: `s${String(statements.length + 1)}`,
          part,
          onset: times(barLength(metre), bar),
          chain: [],
          times: bars,
        });
      if (bar > 0 && letter) lettered.push(bar + 1);
      if (bar > 0 && tempo !== undefined) tempi.push({ bar, tempo });
      if (bar > 0 && moved !== undefined) keys.push({ bar, moved });
      bar += bars;
    }
    const plan: Plan = {
      ...firstPlan('xylophone', 90),
      parts: (['xylophone', 'marimba', 'vibraphone'] as const).map((instrument, i) => ({
        id: `p${String(i + 1)}`,
        instrument,
      })),
      statements,
      letters: letteredAt(lettered),
      ...(tempi.length === 0 ? {} : { tempi }),
      ...(keys.length === 0 ? {} : { keys }),
      nextId: statements.length + 1,
    };
    return { motif, plan };
  });
