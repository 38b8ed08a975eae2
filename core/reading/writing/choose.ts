import { intAt } from '../model/at.ts';
import { PER_BEAT, MOST_READINGS } from './constants.ts';

/** What two candidates are compared by. */
export interface Comparable {
  readonly ticks: Int32Array;
  readonly chance: number;
  /** Readings on the same beat share it. */
  readonly beat: string;
  /** Readings whose beats divide alike share it: the same places in beats of three are another page. */
  readonly kind: number;
}

/**
 * Five readings that differ in a way a teacher cares about: the same places are never offered twice,
 * nor places that differ from a better one only by where the barline stands; and a reading with less
 * than a thousandth of the best one's chance is not worth her time unless there is hardly any other.
 * @returns indices, rising
 * @example chooseReadings([{ ticks: Int32Array.of(0, 48), chance: 0.9, beat: 'a', kind: 2 }, { ticks: Int32Array.of(48, 96), chance: 0.1, beat: 'a', kind: 2 }]) // => [0]
 */
export const chooseReadings = (all: readonly Comparable[]): number[] => {
  const chosen: number[] = [];
  const seen = new Set<string>();
  const onBeat = new Map<string, number>();
  const best = all[0]?.chance ?? 0;
  const several = new Set(all.map(c => c.beat)).size > 1;
  const go = (perBeat: number): void => {
    all.forEach((c, i) => {
      if (chosen.length >= MOST_READINGS || chosen.includes(i)) return;
      const origin = intAt(c.ticks, 0);
      const places = `${c.kind}:${Array.from(c.ticks, t => t - origin).join()}`;
      const here = onBeat.get(c.beat) ?? 0;
      if (seen.has(places) || here >= perBeat || (chosen.length >= 2 && c.chance < best * 1e-4)) return;
      seen.add(places);
      onBeat.set(c.beat, here + 1);
      chosen.push(i);
    });
  };
  // Where the beat itself is open, other beats are what a teacher wants to be offered.
  if (several) go(PER_BEAT);
  go(MOST_READINGS);
  return chosen.sort((a, b) => a - b);
};
