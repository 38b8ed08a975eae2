import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { knownBlows } from '../../core/hearing/knownBlows.ts';

/** Blows on bars near one another, some at the same moment. */
const blows = fc.array(
  fc.record({
    band: fc.integer({ min: 30, max: 36 }),
    loudness: fc.double({ min: 0.01, max: 1, noNaN: true }),
    at: fc.nat(40),
  }),
  { maxLength: 40 },
);

describe('what is known of the bars of a take', () => {
  it('is what a walk through all its blows finds (law)', () => {
    fc.assert(
      fc.property(blows, fc.integer({ min: 29, max: 37 }), fc.nat(42), (drawn, bar, moment) => {
        const all = drawn.map(one => ({ ...one, rose: one.at }));
        const known = knownBlows(all);
        const beside = all.filter(blow => Math.abs(blow.band - bar) <= 1);
        const before = beside.filter(blow => blow.at < moment).map(blow => blow.at);
        expect(known.lastOn(bar, moment)?.at).toBe(before.length === 0 ? undefined : Math.max(...before));
        const loud = beside.map(blow => blow.loudness).sort((a, b) => a - b);
        expect(known.usualOn(bar)).toBe(loud[loud.length >> 1] ?? 0);
        expect(known.usualOn(bar)).toBe(loud[loud.length >> 1] ?? 0);
        const times = (band: number): number => all.filter(blow => blow.band === band).length;
        const likely = [...new Set(all.map(blow => blow.band))].filter(
          band => times(band) >= times(band + 1) && (times(band) > times(band - 1) || times(band - 1) === 0),
        );
        expect([...known.bars].sort()).toEqual(likely.sort());
      }),
    );
  });
});
