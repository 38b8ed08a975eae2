import fc from 'fast-check';
import { expect, it } from 'vitest';
import { fraction, toNumber } from '../../../core/foundation/fraction.ts';
import { metre } from '../../../core/foundation/metre.ts';
import { latticeOf, TICKS, toFraction, toTicks } from '../../../core/reading/search/lattice.ts';
import { secondsAt, ticksAt, type TimeMap } from '../../../core/reading/search/timeMap.ts';

const anyMap: fc.Arbitrary<TimeMap> = fc
  .record({
    gaps: fc.array(fc.double({ min: 0.2, max: 1.5, noNaN: true }), { minLength: 1, maxLength: 12 }),
    from: fc.double({ min: 0, max: 5, noNaN: true }),
    zero: fc.integer({ min: -3, max: 12 }),
  })
  .map(({ gaps, from, zero }) => {
    let at = from;
    return { beats: Float64Array.from([from, ...gaps.map(gap => (at += gap))]), step: 48, zero };
  });

it('law: a place told in seconds is told back as that place', () => {
  fc.assert(
    fc.property(anyMap, fc.integer({ min: -500, max: 1500 }), (map, ticks) => {
      expect(ticksAt(map, secondsAt(map, ticks))).toBeCloseTo(ticks, 5);
    }),
  );
});

it('law: beats fall where they fell, and places between them in proportion', () => {
  fc.assert(
    fc.property(anyMap, fc.double({ min: 0, max: 1, noNaN: true }), (map, share) => {
      map.beats.forEach((at, i) => {
        expect(secondsAt(map, (i - map.zero) * map.step)).toBeCloseTo(at, 9);
        const next = map.beats[i + 1];
        if (next === undefined) return;
        expect(secondsAt(map, (i + share - map.zero) * map.step)).toBeCloseTo(at + share * (next - at), 9);
      });
    }),
  );
});

it('before the first and after the last beat the nearest beat goes on', () => {
  const map: TimeMap = { beats: Float64Array.of(1, 1.5, 2.5), step: 48, zero: 0 };
  expect([-48, -24, 96, 120, 192].map(t => secondsAt(map, t))).toEqual([0.5, 0.75, 2.5, 3, 4.5]);
  expect([0.5, 0.75, 2.5, 3, 4.5].map(s => ticksAt(map, s))).toEqual([-48, -24, 96, 120, 192]);
});

it.each([
  ['4/4', [0, 48, 96, 144], [0, 2, 1, 2], 2],
  ['3/4', [0, 48, 96], [0, 2, 2], 2],
  ['2/2', [0, 48, 96, 144], [0, 3, 1, 3], 2],
  ['6/8', [0, 72], [0, 1], 3],
  ['9/8', [0, 72, 144], [0, 2, 2], 3],
  ['12/8', [0, 72, 144, 216], [0, 2, 1, 2], 3],
] as const)('%s is read in cells with their weights', (text, starts, weights, parts) => {
  const [upper = 4, lower = 4] = text.split('/').map(Number);
  const { cells, bar } = latticeOf(metre(upper, lower));
  expect(bar).toBe((TICKS * upper) / lower);
  expect(cells.map(c => c.start)).toEqual(starts);
  expect(cells.map(c => c.weight)).toEqual(weights);
  expect(cells.every(c => c.parts === parts)).toBe(true);
  expect(cells.reduce((sum, c) => sum + c.length, 0)).toBe(bar);
});

it('unequal beats divide as they are long', () => {
  expect(latticeOf(metre(7, 8)).cells.map(c => [c.start, c.length, c.parts])).toEqual([
    [0, 48, 2],
    [48, 48, 2],
    [96, 72, 3],
  ]);
});

it('ticks and lengths are the same place', () => {
  fc.assert(
    fc.property(fc.integer({ min: -400, max: 400 }), ticks => {
      expect(toTicks(toFraction(ticks))).toBe(ticks);
      expect(toNumber(toFraction(ticks)) * TICKS).toBeCloseTo(ticks, 9);
    }),
  );
  expect(toTicks(fraction(1, 12))).toBe(16);
});
