import { realAt } from '../model/at.ts';
import type { StruckEvent } from '../../take/clean.ts';
import type { Take } from '../../take/take.ts';
import { pairLater, samePitches } from './repeats.ts';
import { LONGEST_LAG_SHARE, SHORTEST_LAG, LAG_TOLERANCE, LAG_BELIEVED, MOST_LAGS } from './constants.ts';

/** An idea that comes again after so many seconds, found before any beat is known. */
export interface Lag {
  readonly seconds: number;
  /** For every event the event one lag later that repeats it, or -1. */
  readonly next: Int32Array;
}

/** The shortest lag after which pitches and times come again, if there is one. */
export const findLag = (take: Take, events: readonly StruckEvent[], at: Float64Array): Lag | undefined => {
  const n = at.length;
  const span = realAt(at, n - 1) - realAt(at, 0);
  if (n < 6 || n > 600) return undefined;
  const alike = (i: number, j: number): boolean => {
    const a = events[i];
    const b = events[j];
    return a !== undefined && b !== undefined && samePitches(take, a, b);
  };
  // Every pair of like strikes votes for its distance; votes are smoothed over a tenth of a second.
  const step = 0.02;
  const votes = new Float64Array(Math.ceil((span * LONGEST_LAG_SHARE) / step) + 1);
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const d = realAt(at, j) - realAt(at, i);
      if (d < SHORTEST_LAG) continue;
      const bin = Math.round(d / step);
      if (bin >= votes.length) break;
      if (alike(i, j))
        for (let k = -4; k <= 4; k++)
          if (bin + k >= 0 && bin + k < votes.length)
            votes[bin + k] = realAt(votes, bin + k) + 1 - Math.abs(k) / 5;
    }
  }
  const peaks: number[] = [];
  for (let k = 1; k + 1 < votes.length; k++) {
    const v = realAt(votes, k);
    if (v > 1.5 && v >= realAt(votes, k - 1) && v > realAt(votes, k + 1)) peaks.push(k);
  }
  // Fewer strikes can vote for longer lags, so votes count against what was possible.
  const worth = (k: number): number => realAt(votes, k) / (1.5 + n * (1 - (k * step) / span));
  const candidates = peaks.sort((x, y) => worth(y) - worth(x)).slice(0, MOST_LAGS);
  let best: (Lag & { share: number }) | undefined;
  for (const k of candidates) {
    const { next, score, possible } = pairLater(at, alike, k * step, LAG_TOLERANCE);
    const paired = next.reduce((c, j) => c + (j >= 0 ? 1 : 0), 0);
    if (paired < 3 || possible < 0.3 * n) continue;
    const share = score / possible;
    if (share < LAG_BELIEVED) continue;
    let sum = 0;
    next.forEach((j, i) => {
      if (j >= 0) sum += realAt(at, j) - realAt(at, i);
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
