import type { BeatGuess } from './beatSearch.ts';
import type { Lag } from '../repeats/lag.ts';
import { NO_PIN } from '../search/moveGraph.ts';

/** The idea's strikes with the times of all its repeats averaged, and the next start as a last strike. */
export const folded = (
  at: Float64Array,
  lag: Lag,
): { at: Float64Array; heads: number[]; count: number } | undefined => {
  const n = at.length;
  const follows = new Uint8Array(n);
  lag.next.forEach(j => {
    if (j >= 0) follows[j] = 1;
  });
  const first = at[0] ?? 0;
  const heads: number[] = [];
  const times: number[] = [];
  let count = 1;
  for (let i = 0; i < n; i++) {
    if (follows[i] === 1 || (at[i] ?? 0) > first + lag.seconds - 0.08) continue;
    let sum = 0;
    let c = 0;
    for (let j = i; j >= 0; j = lag.next[j] ?? -1) sum += (at[j] ?? 0) - c++ * lag.seconds;
    heads.push(i);
    times.push(sum / c);
    count = Math.max(count, c);
  }
  if (heads.length < 3) return undefined;
  const start = times[0] ?? 0;
  times.push(start + lag.seconds);
  for (let i = 1; i < times.length; i++) if ((times[i] ?? 0) <= (times[i - 1] ?? 0)) return undefined;
  return { at: Float64Array.from(times), heads, count };
};

/** A guess at the folded idea, written out over the take; events outside the repeats have no place (NO_PIN). */
export const unfolded = (
  g: BeatGuess,
  heads: readonly number[],
  lag: Lag,
  n: number,
): BeatGuess | undefined => {
  const period = (g.ticks[heads.length] ?? 0) - (g.ticks[0] ?? 0);
  if (period % g.beat !== 0 || period <= 0) return undefined;
  const ticks = new Int32Array(n).fill(NO_PIN);
  heads.forEach((head, h) => {
    let r = 0;
    for (let j = head; j >= 0; j = lag.next[j] ?? -1) ticks[j] = (g.ticks[h] ?? 0) + r++ * period;
  });
  return { ...g, ticks };
};
