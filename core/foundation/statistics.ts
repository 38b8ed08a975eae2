import { mad, mean as mathMean, median as mathMedian, std } from 'mathjs/number';

/**
 * Median, 0 of an empty list.
 * @example
 * median([3, 1, 2]) // => 2
 * median([]) // => 0
 */
export const median = (values: readonly number[]): number =>
  values.length === 0 ? 0 : mathMedian(values as number[]);
/**
 * Mean, 0 of an empty list.
 * @example
 * mean([1, 2, 6]) // => 3
 */
export const mean = (values: readonly number[]): number =>
  values.length === 0 ? 0 : mathMean(values as number[]);
/**
 * Standard deviation about the mean (n − 1), 0 below two values.
 * @example
 * deviation([1, 3]).toFixed(4) // => Math.SQRT2.toFixed(4)
 */
export const deviation = (values: readonly number[]): number =>
  values.length < 2 ? 0 : Number(std(values as number[]));
/** Spread estimated from the median absolute deviation; 1.4826 makes it the s.d. of a normal law. */
export const robustDeviation = (values: readonly number[]): number =>
  values.length < 2 ? 0 : 1.4826 * Number(mad(values as number[]));
