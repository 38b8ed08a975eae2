import { MOST_READINGS } from './limits.ts';

/** What two candidates are compared by. */
export interface Comparable {
  readonly ticks: Int32Array;
  readonly chance: number;
}

/**
 * Five readings that differ in a way a teacher cares about: the same places are never offered twice,
 * nor places that differ from a better one only by where the barline stands; and a reading with less
 * than a thousandth of the best one's chance is not worth her time unless there is hardly any other.
 */
export const chooseReadings = (all: readonly Comparable[]): number[] => {
  const chosen: number[] = [];
  const seen = new Set<string>();
  const best = all[0]?.chance ?? 0;
  all.forEach((c, i) => {
    if (chosen.length >= MOST_READINGS) return;
    const origin = c.ticks[0] ?? 0;
    const places = Array.from(c.ticks, t => t - origin).join();
    if (seen.has(places) || (chosen.length >= 2 && c.chance < best * 1e-4)) return;
    seen.add(places);
    chosen.push(i);
  });
  return chosen;
};
