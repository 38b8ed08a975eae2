import { itemAt, intAt, realAt } from '../model/at.ts';
import type { BeatGuess } from './beatGuess.ts';
import type { Lag } from '../repeats/lag.ts';
import { NO_PIN } from '../search/cells.ts';
import { chainsOf } from '../repeats/chains.ts';
import { NEXT_START } from './constants.ts';

/**
 * The idea's strikes with the times of all its repeats averaged, and the next start as a last strike.
 * @param at seconds, rising
 * @returns seconds of the average playing; undefined where fewer than three strikes are left
 * @example folded(Float64Array.of(0, 0.5, 1, 2, 2.5, 3), { seconds: 2, next: Int32Array.of(3, 4, 5, -1, -1, -1) })?.count // => 2
 */
export const folded = (
  at: Float64Array,
  lag: Lag,
): { at: Float64Array; heads: number[]; count: number } | undefined => {
  const first = realAt(at, 0);
  const chains = chainsOf(lag.next).filter(
    ([head = 0]) => realAt(at, head) <= first + lag.seconds - NEXT_START,
  );
  const heads = chains.map(([head = 0]) => head);
  const times = chains.map(
    chain => chain.reduce((sum, event, k) => sum + realAt(at, event) - k * lag.seconds, 0) / chain.length,
  );
  const count = Math.max(1, ...chains.map(chain => chain.length));
  if (heads.length < 3) return undefined;
  const start = itemAt(times, 0);
  times.push(start + lag.seconds);
  for (let i = 1; i < times.length; i++) if (itemAt(times, i) <= itemAt(times, i - 1)) return undefined;
  return { at: Float64Array.from(times), heads, count };
};

/** A guess at the folded idea, written out over the take; events outside the repeats have no place (NO_PIN). */
export const unfolded = (
  g: BeatGuess,
  heads: readonly number[],
  lag: Lag,
  n: number,
): BeatGuess | undefined => {
  const period = intAt(g.ticks, heads.length) - intAt(g.ticks, 0);
  if (period % g.beat !== 0 || period <= 0) return undefined;
  const ticks = new Int32Array(n).fill(NO_PIN);
  heads.forEach((head, h) => {
    let r = 0;
    for (let j = head; j >= 0; j = intAt(lag.next, j)) ticks[j] = intAt(g.ticks, h) + r++ * period;
  });
  return { ...g, ticks };
};
