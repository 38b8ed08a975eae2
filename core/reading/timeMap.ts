/** Where the beats fell, and so where any written place falls: straight between beats. */
export interface TimeMap {
  /** Beat times in seconds, rising; the first is tick 0. */
  readonly beats: Float64Array;
  /** Ticks from one of them to the next. */
  readonly step: number;
}

/** Seconds at a place in ticks; before the first and after the last beat the nearest beat length goes on. */
export const secondsAt = (map: TimeMap, ticks: number): number => {
  const { beats, step } = map;
  const last = beats.length - 2;
  const k = Math.max(0, Math.min(last, Math.floor(ticks / step)));
  const from = beats[k] ?? 0;
  return from + (ticks / step - k) * ((beats[k + 1] ?? 0) - from);
};

/** The place in ticks (not rounded) at a time in seconds. */
export const ticksAt = (map: TimeMap, seconds: number): number => {
  const { beats, step } = map;
  let low = 0;
  let high = beats.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((beats[middle] ?? 0) <= seconds) low = middle;
    else high = middle - 1;
  }
  const from = beats[low] ?? 0;
  return (low + (seconds - from) / ((beats[low + 1] ?? 1) - from)) * step;
};
