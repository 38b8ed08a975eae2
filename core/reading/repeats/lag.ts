import type { StruckEvent } from '../../take/clean.ts';
import type { Take } from '../../take/take.ts';
import { pairLater, samePitches } from './repeats.ts';

/** An idea that comes again after so many seconds, found before any beat is known. */
export interface Lag {
  readonly seconds: number;
  /** For every event the event one lag later that repeats it, or -1. */
  readonly next: Int32Array;
}

/** Repeats are sought up to this far apart in a share of the take. */
const LONGEST_SHARE = 0.68;
const SHORTEST = 0.9;
/** Seconds by which a repeated strike may miss its time. */
const TOLERANCE = 0.17;
const BELIEVED = 0.74;
const MOST_CANDIDATES = 14;

/** The shortest lag after which pitches and times come again, if there is one. */
export const findLag = (take: Take, events: readonly StruckEvent[], at: Float64Array): Lag | undefined => {
  const n = at.length;
  const span = (at[n - 1] ?? 0) - (at[0] ?? 0);
  if (n < 6 || n > 600) return undefined;
  const alike = (i: number, j: number): boolean => {
    const a = events[i];
    const b = events[j];
    return a !== undefined && b !== undefined && samePitches(take, a, b);
  };
  // Every pair of like strikes votes for its distance; votes are smoothed over a tenth of a second.
  const step = 0.02;
  const votes = new Float64Array(Math.ceil((span * LONGEST_SHARE) / step) + 1);
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const d = (at[j] ?? 0) - (at[i] ?? 0);
      if (d < SHORTEST) continue;
      const bin = Math.round(d / step);
      if (bin >= votes.length) break;
      if (alike(i, j))
        for (let k = -4; k <= 4; k++)
          if (bin + k >= 0 && bin + k < votes.length)
            votes[bin + k] = (votes[bin + k] ?? 0) + 1 - Math.abs(k) / 5;
    }
  }
  const peaks: number[] = [];
  for (let k = 1; k + 1 < votes.length; k++) {
    const v = votes[k] ?? 0;
    if (v > 1.5 && v >= (votes[k - 1] ?? 0) && v > (votes[k + 1] ?? 0)) peaks.push(k);
  }
  // Fewer strikes can vote for longer lags, so votes count against what was possible.
  const worth = (k: number): number => (votes[k] ?? 0) / (1.5 + n * (1 - (k * step) / span));
  const candidates = peaks.sort((x, y) => worth(y) - worth(x)).slice(0, MOST_CANDIDATES);
  let best: (Lag & { share: number }) | undefined;
  for (const k of candidates) {
    const { next, score, possible } = pairLater(at, alike, k * step, TOLERANCE);
    const paired = next.reduce((c, j) => c + (j >= 0 ? 1 : 0), 0);
    if (paired < 3 || possible < 0.3 * n) continue;
    const share = score / possible;
    if (share < BELIEVED) continue;
    let sum = 0;
    next.forEach((j, i) => {
      if (j >= 0) sum += (at[j] ?? 0) - (at[i] ?? 0);
    });
    const seconds = sum / paired;
    if (
      best === undefined ||
      share > best.share + 0.1 ||
      (share > best.share - 0.1 && seconds < best.seconds)
    )
      best = { seconds, next, share };
  }
  return best;
};
