import { describe, expect, it } from 'vitest';
import {
  DIVISIONS,
  maskOf,
  needs,
  patternOf,
  strikesIn,
  divisionOf,
} from '../../../core/reading/rhythm/patterns.ts';
import { type Prices, pricesOf } from '../../../core/reading/rhythm/prior.ts';
import { bendPair, mostEven, swingsOf } from '../../../core/reading/rhythm/swings.ts';
import { vocabulariesOf } from '../../../core/reading/rhythm/vocabularies.ts';

const GRIDS = ['automatic', 'beat', 'half', 'quarter', 'eighth', 'triplet', 'sextuplet'] as const;
const all = GRIDS.flatMap(grid => [...vocabulariesOf(grid), ...vocabulariesOf(grid, true)]);

describe('a prior is a probability', () => {
  it('whatever the last beat was, the chances of the next add up to one', () => {
    for (const vocabulary of all) {
      const list = pricesOf(vocabulary);
      for (const prices of [list.two, list.three] satisfies Prices[]) {
        const patterns = [...prices.fresh.keys()].filter(p => prices.fresh[p] !== Infinity);
        const fresh = patterns.reduce((sum, p) => sum + Math.exp(-(prices.fresh[p] ?? 0)), 0);
        for (const last of patterns) {
          const sum = fresh - Math.exp(-(prices.fresh[last] ?? 0)) + Math.exp(-(prices.again[last] ?? 0));
          expect(sum).toBeCloseTo(1, 9);
          // Going on as before is never dearer than the same pattern anew.
          expect(prices.again[last]).toBeLessThan(prices.fresh[last] ?? 0);
        }
      }
    }
  });

  it('a vocabulary holds its own divisions only, each pattern in one spelling', () => {
    for (const vocabulary of all) {
      const { two, three } = pricesOf(vocabulary);
      for (const [prices, divisions] of [
        [two, vocabulary.two],
        [three, vocabulary.three],
      ] as const) {
        prices.fresh.forEach((price, pattern) => {
          if (price === Infinity) return;
          const division = divisionOf(pattern);
          if (division === 0) throw new Error('no division');
          expect(divisions).toContain(division);
          expect(needs(division, maskOf(pattern))).toBe(true);
        });
      }
    }
  });
});

describe('patterns', () => {
  it('each set of places has exactly one spelling among divisions that divide one another', () => {
    // Places in twenty-fourths of the beat, so that every division lies on them.
    const seen = new Map<string, number>();
    for (const d of DIVISIONS) {
      for (let mask = 1; mask < 1 << d; mask++) {
        if (!needs(d, mask)) continue;
        const places = Array.from({ length: d }, (_, i) => i).filter(i => (mask >> i) & 1);
        const told = places.map(i => (i * 24) / d).join(' ');
        expect(seen.has(told)).toBe(false);
        seen.set(told, patternOf(d, mask));
      }
    }
    // Halves, thirds, quarters and a dotted figure are all there.
    for (const told of ['0', '12', '0 12', '0 8 16', '0 6 12 18', '0 18', '0 4 8', '0 3'])
      expect(seen.has(told)).toBe(true);
  });

  it('counts its strikes', () => {
    expect([0, 1, 0b1011, 0xfff].map(strikesIn)).toEqual([0, 1, 3, 12]);
  });
});

describe('swing', () => {
  it('bends a pair in two straight stretches that meet where the second half begins', () => {
    for (const second of [0.5, 0.6, 2 / 3, 0.75]) {
      expect(bendPair(0, second)).toBe(0);
      expect(bendPair(0.5, second)).toBeCloseTo(second, 12);
      expect(bendPair(1, second)).toBeCloseTo(1, 12);
      expect(bendPair(0.25, second)).toBeCloseTo(second / 2, 12);
      expect(bendPair(0.75, second)).toBeCloseTo((1 + second) / 2, 12);
    }
  });

  it('is tried from straight on, and never beyond what the teacher allows', () => {
    const most = (['none', 'low', 'medium', 'high'] as const).map(t => {
      const halves = swingsOf(t).filter(s => s.of === 'half');
      expect(halves[0]).toEqual({ ratio: 1, of: 'half', cost: 0 });
      expect(Math.max(...halves.map(s => s.ratio))).toBe(mostEven(t));
      return mostEven(t);
    });
    expect(most).toEqual([1, 1.5, 2, 3]);
  });
});
