import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metre } from '../../core/foundation/metre.ts';
import { beatsInBar, clickFor } from '../../core/take/clickBeats.ts';
import type { Take } from '../../core/take/take.ts';
import { trimLeadIn } from '../../core/take/trimLeadIn.ts';

const takeOf = (strikes: readonly number[], beats?: readonly number[], m = metre(4, 4)): Take => ({
  id: 't',
  capturedAt: '',
  source: 'file',
  from: '',
  latency: 0,
  lengthsMean: true,
  strikes: strikes.map(at => ({ at, pitch: 60, velocity: 80, until: at + 0.25 })),
  ...(beats === undefined ? {} : { click: { metre: m, beats } }),
});
const every = (first: number, period: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => first + i * period);

describe('the empty bars before the first strike', () => {
  it('are left out: time 0 is the barline the music begins in', () => {
    const trimmed = trimLeadIn(takeOf([4.5, 5, 6.25], every(0, 0.5, 20)));
    expect(trimmed.strikes.map(s => [s.at, s.until])).toEqual([
      [0.5, 0.75],
      [1, 1.25],
      [2.25, 2.5],
    ]);
    expect(trimmed.click?.beats).toEqual([0, 0.5, 1, 1.5, 2, 2.5]);
  });

  it('without a click, or without strikes, nothing changes', () => {
    const plain = takeOf([3, 4]);
    expect(trimLeadIn(plain)).toBe(plain);
    const silent = takeOf([], every(0, 0.5, 8));
    expect(trimLeadIn(silent)).toBe(silent);
    const elsewhere = takeOf([60, 61], every(0, 0.5, 8));
    expect(trimLeadIn(elsewhere)).toBe(elsewhere);
    const unlet = {
      ...plain,
      click: { metre: metre(4, 4), beats: every(0, 0.5, 20) },
      strikes: [{ at: 3, pitch: 60, velocity: 80 }],
    };
    expect(trimLeadIn(unlet).strikes[0]).not.toHaveProperty('until');
  });

  it('law: no more than what is shifted changes, and the first strike lies in the first bar', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 200 }), { minLength: 1, maxLength: 8 }),
        fc.constantFrom(metre(4, 4), metre(3, 4), metre(6, 8), metre(2, 2)),
        (tenths, m) => {
          const strikes = tenths.map(t => t / 10).sort((a, b) => a - b);
          const take = takeOf(strikes, every(0, 0.5, 60), m);
          const trimmed = trimLeadIn(take);
          const shift = (take.strikes[0]?.at ?? 0) - (trimmed.strikes[0]?.at ?? 0);
          const bar = 0.5 * beatsInBar(m);
          expect(Math.abs(shift / bar - Math.round(shift / bar))).toBeLessThan(1e-9);
          trimmed.strikes.forEach((s, i) => {
            expect(s.at).toBeCloseTo((take.strikes[i]?.at ?? 0) - shift, 9);
            expect((s.until ?? 0) - s.at).toBeCloseTo(0.25, 9);
          });
          // A quarter of a beat early still belongs to the bar that begins.
          expect(trimmed.strikes[0]?.at ?? -1).toBeGreaterThanOrEqual(-0.125 - 1e-9);
          expect(trimmed.strikes[0]?.at ?? 99).toBeLessThan(bar - 0.125 + 1e-9);
          const [lastStrike, lastBeat] = [trimmed.strikes.at(-1)?.at ?? 0, trimmed.click?.beats.at(-1) ?? 0];
          expect(lastBeat).toBeGreaterThan(lastStrike);
          expect(lastBeat - lastStrike).toBeLessThanOrEqual(1);
        },
      ),
    );
  });
});

describe('the click a phrase was played to', () => {
  const click = { metre: metre(4, 4), beats: every(10, 0.5, 9) };

  it('begins at most a bar before it and ends after it', () => {
    expect(clickFor(click, 8, 9)?.beats[0]).toBe(10);
    expect(clickFor(click, 7.9, 9)).toBeUndefined();
    expect(clickFor(click, 10, 10.6)?.beats).toEqual([10, 10.5, 11]);
    expect(clickFor(click, 10, 10.5)?.beats).toEqual([10, 10.5, 11]);
    expect(clickFor(click, 14, 18)?.beats).toEqual([12, 12.5, 13, 13.5, 14]);
    expect(clickFor(click, 14, 18.2)).toBeUndefined();
  });

  it('a strike a quarter of a beat early belongs to the barline; earlier, to the bar before', () => {
    expect(clickFor(click, 11.875, 12)?.beats[0]).toBe(12);
    expect(clickFor(click, 11.87, 12)?.beats[0]).toBe(10);
  });

  it.each([
    [4, 4, 4],
    [3, 4, 3],
    [2, 2, 2],
    [6, 8, 2],
    [12, 8, 4],
    [3, 8, 1],
    [5, 8, 5],
  ])('%i/%i has %i beats', (upper, lower, count) => {
    expect(beatsInBar(metre(upper, lower))).toBe(count);
  });
});
