import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { METRES_TO_CHOOSE, metreInWords } from '../../core/foundation/metre.ts';
import { grow } from '../../core/growing/grow.ts';
import { lastBar } from '../../core/growing/sections.ts';
import type { Motif } from '../../core/motif/motif.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { writtenStep } from '../../core/score/writtenStep.ts';
import { keyOptions } from '../../renderer/views/grow/otherKeys.ts';
import { metreBefore, metreOptions, noMetreBecause } from '../../renderer/views/grow/otherMetres.ts';
import { anyBarredPiece } from '../growing/anyBarredPlan.ts';

/** A random piece, followed in canon or not, played as swung or not, and one of its bars. */
const anyPlace = fc
  .record({
    piece: anyBarredPiece,
    beats: fc.option(fc.integer({ min: 1, max: 5 }), { nil: undefined }),
    swings: fc.boolean(),
    place: fc.double({ min: 0, max: 1, noNaN: true }),
  })
  .map(({ piece, beats, swings, place }): { motif: Motif; plan: Plan; bar: number } => {
    const motif = swings ? { ...piece.motif, swing: { ratio: 2, unit: fraction(1, 8) } } : piece.motif;
    const canon =
      beats === undefined
        ? undefined
        : grow(motif, piece.plan, { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats });
    const plan = canon?.ok === true ? canon.value.plan : piece.plan;
    const last = lastBar(motif, plan);
    return { motif, plan, bar: 2 + Math.min(last - 2, Math.floor(place * (last - 1))) };
  });

describe('what a card offers, over random pieces', () => {
  it('every metre that is offered can be written, none that can be is kept back, and no offer has its reason', () => {
    let refused = 0;
    let offered = 0;
    fc.assert(
      fc.property(anyPlace, ({ motif, plan, bar }) => {
        const options = metreOptions(motif, plan, bar).map(metreInWords);
        for (const to of METRES_TO_CHOOSE) {
          const done = writtenStep(motif, plan, { kind: 'metre', statement: 's1', bar, to });
          const isBefore = metreInWords(to) === metreInWords(metreBefore(motif, plan, bar));
          expect(options.includes(metreInWords(to))).toBe(done.ok && !isBefore);
          if (done.ok) offered++;
          else refused++;
        }
        if (options.length === 0) expect(noMetreBecause(motif, plan, bar)?.what).toMatch(/[.]$/);
      }),
      { numRuns: 60 },
    );
    // Both kinds are met.
    expect(Math.min(offered, refused)).toBeGreaterThan(50);
  });

  it('every key that is offered can be written', () => {
    fc.assert(
      fc.property(anyPlace, ({ motif, plan, bar }) => {
        for (const { to } of keyOptions(motif.key))
          expect(writtenStep(motif, plan, { kind: 'key', statement: 's1', bar, to }).ok).toBe(true);
      }),
      { numRuns: 15 },
    );
  });
});
