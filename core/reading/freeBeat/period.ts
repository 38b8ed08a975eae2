import { intAt } from '../model/at.ts';
import { NO_PIN } from '../search/cells.ts';
import type { Lag } from '../repeats/lag.ts';
import { FREE_BEAT } from './constants.ts';

/** How many beats an idea that comes again lasts, and what that says about a beat. */

/** Whether an idea usually lasts so many beats; whether it may without being odd. */
const usualPeriod = (beats: number, parts: 2 | 3): boolean =>
  (parts === 2 ? [4, 8, 16] : [2, 4, 8]).includes(beats);
const knownPeriod = (beats: number, parts: 2 | 3): boolean =>
  (parts === 2 ? [3, 6, 12, 2] : [3, 6, 1]).includes(beats);

/**
 * Nats for an idea of so many beats.
 * @param beats any number above 0; an idea of no whole number of beats is dearest
 * @example
 * beatsCost(4, 2) // => 0
 * beatsCost(4.5, 2) // => FREE_BEAT.unevenPeriod
 */
export const beatsCost = (beats: number, parts: 2 | 3): number => {
  const p = FREE_BEAT;
  if (!Number.isInteger(beats)) return p.unevenPeriod;
  return usualPeriod(beats, parts) ? 0 : knownPeriod(beats, parts) ? p.rarePeriod : p.oddPeriod;
};

/**
 * Nats on top of that once the whole is read: a wrong beat is best known by an idea of odd length.
 * @example
 * wholeIdeaCost(8, 2) // => 0
 * wholeIdeaCost(7, 2) // => FREE_BEAT.oddBars
 */
export const wholeIdeaCost = (beats: number, parts: 2 | 3): number => {
  const p = FREE_BEAT;
  if (usualPeriod(beats, parts)) return 0;
  return knownPeriod(beats, parts) ? p.rareBars : p.oddBars;
};

/**
 * Nats by which places disagree with an idea that comes again after a known time.
 * @param beat ticks in a beat
 * @returns nats; 0 without repeats
 * @example closureCost(Int32Array.of(0, 48), 48, 2, undefined) // => 0
 */
export const closureCost = (ticks: Int32Array, beat: number, parts: 2 | 3, lag: Lag | undefined): number => {
  if (lag === undefined) return 0;
  let broken = 0;
  let pairs = 0;
  const period = periodOf(ticks, lag);
  lag.next.forEach((j, i) => {
    if (j < 0 || ticks[i] === NO_PIN || ticks[j] === NO_PIN) return;
    pairs++;
    if (intAt(ticks, j) - intAt(ticks, i) !== period) broken++;
  });
  // Repeats are told apart by a few strikes, however often they come.
  const share = Math.min(1, 8 / Math.max(1, pairs));
  return FREE_BEAT.broken * broken * share + beatsCost(period / beat, parts);
};

/**
 * The commonest distance between repeats, in ticks.
 * @returns ticks; 0 where no pair of repeats has a position
 * @example periodOf(Int32Array.of(0, 48, 192), { seconds: 2, next: Int32Array.of(2, -1, -1) }) // => 192
 */
export const periodOf = (ticks: Int32Array, lag: Lag): number => {
  const count = new Map<number, number>();
  lag.next.forEach((j, i) => {
    if (j < 0 || ticks[i] === NO_PIN || ticks[j] === NO_PIN) return;
    const d = intAt(ticks, j) - intAt(ticks, i);
    count.set(d, (count.get(d) ?? 0) + 1);
  });
  let best = 0;
  let most = 0;
  for (const [d, c] of count) {
    if (c > most) {
      most = c;
      best = d;
    }
  }
  return best;
};
