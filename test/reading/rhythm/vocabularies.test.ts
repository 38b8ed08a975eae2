import { describe, expect, it } from 'vitest';
import type { Grid } from '../../../core/reading/model/reading.ts';
import { type Division, needs, patternOf } from '../../../core/reading/rhythm/patterns.ts';
import { pricesOf } from '../../../core/reading/rhythm/prior.ts';
import { vocabulariesOf } from '../../../core/reading/rhythm/vocabularies.ts';

const GRIDS: readonly Grid[] = ['beat', 'half', 'quarter', 'eighth', 'triplet', 'sextuplet'];
const DIVISIONS: readonly Division[] = [1, 2, 3, 4, 6, 8, 12];

/** The struck slots of a division as slots of the coarsest division that holds them all. */
const coarsest = (division: Division, mask: number): { division: Division; mask: number } => {
  for (const d of DIVISIONS) {
    if (division % d !== 0) continue;
    const slots = Array.from({ length: d }, (_, i) => i).filter(i => mask & (1 << ((i * division) / d)));
    const inside = slots.reduce((m, i) => m | (1 << ((i * division) / d)), 0);
    const own = slots.reduce((m, i) => m | (1 << i), 0);
    if (inside === mask && needs(d, own)) return { division: d, mask: own };
  }
  return { division, mask };
};

describe('a chosen grid', () => {
  it.each(GRIDS)('%s can write every choice of the places it has', grid => {
    for (const vocabulary of vocabulariesOf(grid)) {
      for (const parts of ['two', 'three'] as const) {
        const { fresh } = pricesOf(vocabulary)[parts];
        for (const division of vocabulary[parts]) {
          for (let mask = 0; mask < 1 << division; mask++) {
            const spelt = coarsest(division, mask);
            expect(
              fresh[patternOf(spelt.division, spelt.mask)],
              `${grid} ${parts} ${String(division)} ${mask.toString(2)}`,
            ).toBeLessThan(Infinity);
          }
        }
      }
    }
  });
});
