import type { Score } from './score.ts';

/**
 * How many bars a score has as they are numbered: an upbeat is no bar of its own.
 * @example
 * numberedBars({ barCount: 5, upbeat: fraction(1, 4) }) // => 4
 * numberedBars({ barCount: 5, upbeat: ZERO }) // => 5
 */
export const numberedBars = ({ barCount, upbeat }: Pick<Score, 'barCount' | 'upbeat'>): number =>
  barCount - (upbeat.n > 0 ? 1 : 0);
