import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chainsOf } from '../../../core/reading/repeats/chains.ts';
import { findLag } from '../../../core/reading/repeats/lag.ts';
import { findRepeats, pairLater, samePitches } from '../../../core/reading/repeats/repeats.ts';
import type { StruckEvent } from '../../../core/take/clean.ts';
import type { Take } from '../../../core/take/take.ts';

const BAR = 192;
const takeOf = (
  places: readonly number[],
  pitches: readonly number[],
): { take: Take; events: StruckEvent[]; at: Float64Array } => ({
  take: {
    id: '',
    capturedAt: '',
    source: 'midi',
    from: '',
    latency: 0,
    lengthsMean: false,
    strikes: places.map((at, i) => ({ at, pitch: pitches[i] ?? 60, velocity: 80 })),
  },
  events: places.map((at, i) => ({ at, strikes: [i], velocity: 80 })),
  at: Float64Array.from(places),
});
const IDEA = [0, 24, 72, 96, 144];
const NOTES = [60, 64, 67, 64, 62];
/** The idea so many times, every `period`, each stroke off by up to `wobble` (a fixed pattern). */
const again = (times: number, period = BAR, wobble = 0): { places: number[]; pitches: number[] } => ({
  places: Array.from({ length: times }, (_, t) =>
    IDEA.map((at, i) => at + t * period + wobble * Math.sin(7 * i + 3 * t)),
  ).flat(),
  pitches: Array.from({ length: times }, () => NOTES).flat(),
});

describe('an idea that comes again', () => {
  it('is found with its period in bars, each note paired with itself', () => {
    for (const [bars, wobble] of [
      [1, 0],
      [1, 3],
      [2, 3],
    ] as const) {
      const { places, pitches } = again(4, bars * BAR, wobble);
      const { take, events, at } = takeOf(places, pitches);
      const found = findRepeats(take, events, at, BAR, 48);
      expect(found?.bars).toBe(bars);
      expect([...(found?.next ?? [])]).toEqual([
        ...Array.from({ length: 15 }, (_, i) => i + 5),
        -1,
        -1,
        -1,
        -1,
        -1,
      ]);
      expect(found?.share).toBeGreaterThan(0.9);
    }
  });

  it('is not found where nothing comes again', () => {
    const { take, events, at } = takeOf(
      [0, 24, 72, 96, 144, 200, 236, 300, 370],
      [60, 64, 67, 64, 62, 65, 71, 59, 72],
    );
    expect(findRepeats(take, events, at, BAR, 48)).toBeUndefined();
  });

  it('pairs each later note once, in order', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 400 }), { minLength: 2, maxLength: 14 }), all => {
        const places = Float64Array.from([...all].sort((a, b) => a - b));
        const { next } = pairLater(places, () => true, 96, 12);
        const later = [...next].filter(j => j >= 0);
        expect([...new Set(later)].sort((a, b) => a - b)).toEqual(later);
        next.forEach((j, i) => {
          if (j >= 0) expect(Math.abs((places[j] ?? 0) - (places[i] ?? 0) - 96)).toBeLessThanOrEqual(12);
        });
      }),
    );
  });

  it('a like pitch is worth more than a nearer place of another', () => {
    const pitches = [60, 72, 60];
    const { next } = pairLater(Float64Array.of(0, 94, 99), (i, j) => pitches[i] === pitches[j], 96, 12);
    expect([...next]).toEqual([2, -1, -1]);
  });

  it('counts what could be paired at all', () => {
    const places = Float64Array.from(again(3).places);
    const { score, possible } = pairLater(places, () => true, BAR, 12);
    expect(possible).toBe(10);
    expect(score).toBeCloseTo(10, 9);
  });

  it('chords are alike when all their pitches are, as many of each', () => {
    const { take } = takeOf([0, 0, 1, 1, 2], [60, 64, 60, 64, 60]);
    const event = (...strikes: number[]): StruckEvent => ({ at: 0, strikes, velocity: 80 });
    expect(samePitches(take, event(0, 1), event(2, 3))).toBe(true);
    expect(samePitches(take, event(0, 1), event(2, 4))).toBe(false);
    expect(samePitches(take, event(0), event(2, 3))).toBe(false);
    expect(samePitches(take, event(1), event(2))).toBe(false);
  });
});

describe('an idea that comes again before any beat is known', () => {
  it('is found with the seconds from one playing to the next', () => {
    for (const seconds of [1.6, 2.2, 3.1]) {
      const { places, pitches } = again(4, BAR, 2);
      const { take, events, at } = takeOf(
        places.map(p => 3 + (p * seconds) / BAR),
        pitches,
      );
      const lag = findLag(take, events, at);
      expect(lag?.seconds).toBeCloseTo(seconds, 1);
      expect([...(lag?.next ?? [])].slice(0, 15)).toEqual(Array.from({ length: 15 }, (_, i) => i + 5));
    }
  });

  it('is not found in five strikes, nor where nothing comes again', () => {
    const few = takeOf([0, 1, 2, 3, 4], [60, 60, 60, 60, 60]);
    expect(findLag(few.take, few.events, few.at)).toBeUndefined();
    const none = takeOf([0, 0.5, 1.7, 2, 3.1, 4.6, 5, 6.4], [60, 61, 62, 63, 64, 65, 66, 67]);
    expect(findLag(none.take, none.events, none.at)).toBeUndefined();
  });
});

it('chains hold every event once, in order of time, along what repeats them', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 1, max: 8 }), (n, period) => {
      const next = Int32Array.from({ length: n }, (_, i) =>
        i + period < n && i % 3 !== 0 ? i + period : -1,
      );
      const chains = chainsOf(next);
      expect(chains.flat().sort((a, b) => a - b)).toEqual(Array.from({ length: n }, (_, i) => i));
      for (const chain of chains)
        chain.slice(1).forEach((event, i) => {
          expect(next[chain[i] ?? -1]).toBe(event);
        });
    }),
  );
});
