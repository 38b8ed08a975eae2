import { itemAt } from '../model/at.ts';
import { median } from '../../foundation/statistics.ts';
import { DOUBLE_TAP, SMOOTHING } from './constants.ts';

/**
 * Tapped beats made fit to stand in for a click: doubled taps dropped, missed ones filled in, the rest
 * smoothed, for nobody taps as evenly as a click. Nothing is invented before the first or after the last.
 */

/**
 * Times of the beats that were meant, rising, in seconds; empty below two usable taps.
 * @param taps seconds, in any order
 * @example
 * beatsFromTaps([0, 1, 2, 4]).length // => 5
 * beatsFromTaps([1]) // => []
 */
export const beatsFromTaps = (taps: readonly number[]): number[] => {
  const sorted = taps.filter(Number.isFinite).sort((a, b) => a - b);
  if (sorted.length < 2) return [];
  const gaps = sorted.slice(1).map((t, i) => t - itemAt(sorted, i));
  // Doubles make short gaps, misses long ones: the middle one is a beat.
  const rough = median(gaps.filter(g => g > 0.12));
  if (!(rough > 0)) return [];
  const single: number[] = [];
  for (const t of sorted) {
    const last = single[single.length - 1];
    if (last === undefined || t - last > DOUBLE_TAP * rough) single.push(t);
  }
  const beats: number[] = [];
  for (const t of single) {
    const last = beats[beats.length - 1];
    if (last !== undefined) {
      const missing = Math.round((t - last) / rough);
      for (let k = 1; k < missing; k++) beats.push(last + ((t - last) * k) / missing);
    }
    beats.push(t);
  }
  return smoothed(beats);
};

/** Each beat drawn towards the straight line through its neighbours, two to either side. */
const smoothed = (beats: readonly number[]): number[] =>
  beats.map((t, i) => {
    const reach = Math.min(2, i, beats.length - 1 - i);
    if (reach === 0) return t;
    let sum = 0;
    for (let k = 1; k <= reach; k++) sum += ((beats[i - k] ?? t) + (beats[i + k] ?? t)) / 2;
    return (1 - SMOOTHING) * t + SMOOTHING * (sum / reach);
  });
