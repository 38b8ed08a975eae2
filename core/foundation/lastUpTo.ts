/**
 * Index of the last of sorted things that is not beyond a place, by halving; -1 where all are.
 * @param keyOf where each stands, never falling
 * @example
 * lastUpTo([1, 3, 3, 7], n => n, 3) // => 2
 * lastUpTo([1, 3], n => n, 0) // => -1
 */
export const lastUpTo = <T>(sorted: readonly T[], keyOf: (one: T) => number, place: number): number => {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const one = sorted[middle];
    if (one !== undefined && keyOf(one) <= place) low = middle + 1;
    else high = middle;
  }
  return low - 1;
};
