import { intAt } from '../model/at.ts';
import { URN_WEIGHT, REPETITION } from './constants.ts';

/**
 * What an idea saves by saying the same few things again. Gaps between strikes, and places within the
 * beat, are each drawn from an urn: a value that came before is cheaper than a new one, and common
 * values are cheaper than rare ones. A wrong beat gives many different gaps and places where the right
 * one gives few.
 * (A Pólya urn, from the statistics of repeated draws: common practice, no source.)
 * @param beat ticks in a beat
 * @returns nats
 * @example repetitionCost(Int32Array.of(), 48, 2) // => 0
 */
export const repetitionCost = (ticks: Int32Array, beat: number, parts: 2 | 3): number => {
  const gaps: number[] = [];
  for (let i = 1; i < ticks.length; i++) gaps.push(intAt(ticks, i) - intAt(ticks, i - 1));
  const places = Array.from(ticks, t => ((t % beat) + beat) % beat);
  return (
    REPETITION.gaps * polyaUrnCost(gaps, gap => usualGap(gap, beat)) +
    REPETITION.placesInBeat * polyaUrnCost(places, place => usualPlace(place, beat, parts))
  );
};

/**
 * The same for places in the bar, on a beat that is known.
 * @param bar and beat in ticks
 * @returns nats
 * @example repeatedPlacesCost(Int32Array.of(0, 192), 192, 48) < repeatedPlacesCost(Int32Array.of(0, 204), 192, 48) // => true
 */
export const repeatedPlacesCost = (ticks: Int32Array, bar: number, beat: number): number =>
  REPETITION.placesInBar *
  polyaUrnCost(
    Array.from(ticks, t => ((t % bar) + bar) % bar),
    place => (place % beat === 0 ? 0.12 : place % (beat / 2) === 0 ? 0.06 : 0.02),
  );

/** Nats of a row of values drawn from an urn that first holds `usual` shares of each. */
const polyaUrnCost = (values: readonly number[], usual: (value: number) => number): number => {
  const drawn = new Map<number, number>();
  let cost = 0;
  values.forEach((value, i) => {
    const times = drawn.get(value) ?? 0;
    cost -= Math.log((times + URN_WEIGHT * usual(value)) / (i + URN_WEIGHT));
    drawn.set(value, times + 1);
  });
  return cost;
};

/** Rough shares of gaps in written music, before anything is heard (our choice). */
const usualGap = (gap: number, beat: number): number => {
  if (gap === beat) return 0.2;
  if (gap === beat / 2 || gap === beat * 2) return 0.15;
  if (gap > 0 && gap % beat === 0) return 0.08 / (gap / beat - 1);
  if (gap % (beat / 2) === 0) return 0.06;
  if (gap % (beat / 4) === 0) return 0.03;
  if (gap % (beat / 3) === 0) return 0.05;
  return 0.01;
};

const usualPlace = (place: number, beat: number, parts: 2 | 3): number => {
  if (place === 0) return 0.4;
  if (place === beat / 2) return 0.2;
  return place % (beat / (parts === 3 ? 3 : 4)) === 0 ? 0.08 : 0.05;
};
