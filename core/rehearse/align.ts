import type { Seconds } from '../foundation/units.ts';

/** Which of one row answers which of another, by index. */
export type Pair = readonly [written: number, played: number];

/** First index of `sorted` that is not below a value. */
const firstFrom = (sorted: readonly number[], value: number): number => {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle] ?? Infinity) < value) low = middle + 1;
    else high = middle;
  }
  return low;
};

/**
 * Pairs two rows of times in order, so that together they lie nearest: the sum of (reach − distance) is the
 * greatest there is. Exact, by dynamic programming; only what lies within reach is compared, so time grows with
 * the rows' length times how many fall within reach.
 * @param written rising
 * @param played rising
 * @param gain what a pair is worth, 0 or less for none; nearness unless given
 * @example
 * nearestInOrder([0, 1, 2], [0.1, 1.9], 0.3) // => [[0, 0], [2, 1]]
 */
export const nearestInOrder = (
  written: readonly Seconds[],
  played: readonly Seconds[],
  reach: Seconds,
  gain: (i: number, j: number) => number = (i, j) => reach - Math.abs((written[i] ?? 0) - (played[j] ?? 0)),
): readonly Pair[] => {
  // Row i: the best of the first i written, when the first j played are behind; j from `low` up.
  const rows: { readonly low: number; readonly best: readonly number[] }[] = [{ low: 0, best: [0] }];
  const at = (row: number, j: number): number => {
    const { low, best } = rows[row] ?? { low: 0, best: [0] };
    return best[Math.max(0, Math.min(j - low, best.length - 1))] ?? 0;
  };
  written.forEach((time, i) => {
    const low = firstFrom(played, time - reach);
    const high = firstFrom(played, time + reach + 1e-9);
    const best: number[] = [at(i, low)];
    for (let j = low + 1; j <= high; j++) {
      const paired = gain(i, j - 1);
      const without = Math.max(at(i, j), best[j - 1 - low] ?? 0);
      best.push(paired > 0 ? Math.max(without, at(i, j - 1) + paired) : without);
    }
    rows.push({ low, best });
  });
  const pairs: Pair[] = [];
  let j = played.length;
  for (let i = written.length; i > 0; i--) {
    const { low, best } = rows[i] ?? { low: 0, best: [0] };
    j = Math.min(j, low + best.length - 1);
    // Left out where that is as good; else the latest that is.
    while (j > low && at(i, j) === at(i, j - 1)) j -= 1;
    if (j <= low || at(i, j) === at(i - 1, j)) continue;
    pairs.push([i - 1, j - 1]);
    j -= 1;
  }
  return pairs.reverse();
};
