import { realAt } from '../model/at.ts';
/** Where the beats fell, and so where any written place falls: straight between beats. */
export interface TimeMap {
  /** Beat times in seconds, rising. */
  readonly beats: Float64Array;
  /** Ticks from one of them to the next. */
  readonly step: number;
  /** Which beat is on tick 0 (the first barline); may lie outside the list. */
  readonly zero: number;
}

/**
 * Seconds at a place in ticks; before the first and after the last beat the nearest beat length goes on.
 * @example secondsAt({ beats: Float64Array.of(1, 1.5, 2), step: 48, zero: 0 }, 24) // => 1.25
 */
export const secondsAt = (map: TimeMap, ticks: number): number => {
  const { beats, step, zero } = map;
  const x = ticks / step + zero;
  const k = Math.max(0, Math.min(beats.length - 2, Math.floor(x)));
  const from = realAt(beats, k);
  return from + (x - k) * (realAt(beats, k + 1) - from);
};

/**
 * The place in ticks (not rounded) at a time in seconds.
 * @example ticksAt({ beats: Float64Array.of(1, 1.5, 2), step: 48, zero: 0 }, 1.75) // => 72
 */
export const ticksAt = (map: TimeMap, seconds: number): number => {
  const { beats, step, zero } = map;
  let low = 0;
  let high = beats.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (realAt(beats, middle) <= seconds) low = middle;
    else high = middle - 1;
  }
  const from = realAt(beats, low);
  return (low - zero + (seconds - from) / (realAt(beats, low + 1) - from)) * step;
};
