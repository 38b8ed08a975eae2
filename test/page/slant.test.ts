import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { slantOf, standsWell } from '../../renderer/page/slant.ts';

const BEAM = 5;
/** Two stems, 35 long from heads at these steps from the middle line (y 20). */
const tipsOf = (steps: readonly number[], up: boolean, apart = 60) =>
  steps.map((step, i) => ({ x: i * apart, y: 20 - 5 * step + (up ? -35 : 35) }));

// Ross, The Art of Music Engraving (1970), and Gould, Behind Bars (2011), from memory: a second slants by a
// quarter of a space, a third by half, a fourth by one, wider intervals by one and a quarter.
describe('how far a beam rises', () => {
  it.each([
    ['a unison', 0, 0],
    ['a second', 1, 2.5],
    ['a third', 2, 5],
    ['a fourth', 3, 10],
    ['a fifth', 4, 12.5],
    ['an octave', 7, 12.5],
  ])('%s', (_, interval, rise) => {
    for (const from of [-6, -4, -1, 0, 2, 5]) {
      for (const up of [true, false]) {
        const { slope } = slantOf(tipsOf([from, from + interval], up), interval, false, up, BEAM, 0);
        // A quarter of a space more or less, where the lines ask for it.
        expect(Math.abs(-slope * 60 - rise)).toBeLessThanOrEqual(2.5 + 1e-9);
        if (interval > 0) expect(slope).toBeLessThan(0);
        const falls = slantOf(tipsOf([from + interval, from], up), -interval, false, up, BEAM, 0);
        if (interval > 0) expect(falls.slope).toBeGreaterThan(0);
      }
    }
  });

  it('less where notes stand close, and not where it may not', () => {
    const close = slantOf(tipsOf([0, 7], true, 20), 7, false, true, BEAM, 0);
    expect(-close.slope * 20).toBeLessThanOrEqual(5);
    expect(slantOf(tipsOf([0, 4], true), 4, true, true, BEAM, 0).slope).toBeCloseTo(0, 9);
  });
});

describe('where a beam stands', () => {
  it('sits on a line, straddles it or hangs from it', () => {
    expect([0, 5, 7.5, 10].map(y => standsWell(y, true, BEAM))).toEqual([true, true, true, true]);
    expect(standsWell(2.5, true, BEAM)).toBe(false);
    expect([0, 5, 2.5].map(y => standsWell(y, false, BEAM))).toEqual([true, true, true]);
    expect(standsWell(7.5, false, BEAM)).toBe(false);
  });

  it('law: no stem is shortened, both ends stand well, none is drawn out by more than a space', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 2, maxLength: 6 }),
        fc.boolean(),
        fc.integer({ min: 15, max: 90 }),
        fc.constantFrom(0, 137),
        (steps, up, apart, topLine) => {
          const tips = tipsOf(steps, up, apart).map(tip => ({ x: tip.x, y: tip.y + topLine }));
          const [first] = steps;
          const last = steps.at(-1);
          const interval = (last ?? 0) - (first ?? 0);
          const { shift, slope } = slantOf(tips, interval, false, up, BEAM, topLine);
          const at = (x: number): number => (tips[0]?.y ?? 0) + shift + x * slope;
          const longer = tips.map(tip => (up ? tip.y - at(tip.x) : at(tip.x) - tip.y));
          expect(Math.min(...longer)).toBeGreaterThan(-1e-6);
          expect(Math.min(...longer)).toBeLessThan(10);
          const ends = [0, tips.at(-1)?.x ?? 0].map(x => at(x) - topLine);
          for (const y of ends) expect(standsWell(y, up, BEAM)).toBe(true);
        },
      ),
    );
  });
});
