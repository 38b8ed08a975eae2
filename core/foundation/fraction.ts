/**
 * An exact fraction in lowest terms, denominator above zero. Lengths and places in music are
 * fractions of a semibreve (whole note): a crotchet is 1/4.
 *
 * A plain pair, so that it can be stored, compared and frozen. Arithmetic runs on the integers
 * themselves; test/laws/treatments.test.ts holds it to mathjs' own Fraction, result by result.
 */
export interface Fraction {
  readonly n: number;
  readonly d: number;
}

const divisor = (a: number, b: number): number => {
  let x = Math.abs(a);
  let y = Math.abs(b);
  while (y !== 0) {
    const rest = x % y;
    x = y;
    y = rest;
  }
  return x || 1;
};

/**
 * The fraction n/d in lowest terms.
 * @throws RangeError when d is zero or either is no safe integer: that is a bug, not input.
 * @example
 * fraction(6, 8) // => { n: 3, d: 4 }
 */
export const fraction = (n: number, d = 1): Fraction => {
  if (d === 0 || !Number.isSafeInteger(n) || !Number.isSafeInteger(d)) {
    throw new RangeError(`no exact fraction: ${String(n)}/${String(d)}`);
  }
  const by = divisor(n, d) * (d < 0 ? -1 : 1);
  return { n: n / by || 0, d: d / by };
};

export const ZERO: Fraction = { n: 0, d: 1 };
export const ONE: Fraction = { n: 1, d: 1 };

/**
 * The sum, exact.
 * @example
 * add(fraction(1, 4), fraction(1, 8)) // => fraction(3, 8)
 */
export const add = (a: Fraction, b: Fraction): Fraction => {
  if (a.d === b.d) return fraction(a.n + b.n, a.d);
  const [left, right, d] = [a.n * b.d, b.n * a.d, a.d * b.d];
  // Two products beyond whole numbers may have a sum within, which is not exact.
  const n = left + right;
  const isExact = Number.isSafeInteger(left) && Number.isSafeInteger(right) && Number.isSafeInteger(n);
  if (isExact && Number.isSafeInteger(d)) return fraction(n, d);
  // The common denominator may still be within reach.
  const by = divisor(a.d, b.d);
  return fraction(a.n * (b.d / by) + b.n * (a.d / by), (a.d / by) * b.d);
};
/**
 * The difference, exact.
 * @example
 * subtract(fraction(1, 4), fraction(3, 8)) // => fraction(-1, 8)
 */
export const subtract = (a: Fraction, b: Fraction): Fraction => add(a, { n: -b.n, d: b.d });
/**
 * The product, exact.
 * @example
 * multiply(fraction(3, 8), fraction(2, 3)) // => fraction(1, 4)
 */
export const multiply = (a: Fraction, b: Fraction): Fraction => {
  const n = a.n * b.n;
  const d = a.d * b.d;
  if (Number.isSafeInteger(n) && Number.isSafeInteger(d)) return fraction(n, d);
  // In lowest terms each before they are multiplied.
  const [left, right] = [fraction(a.n, b.d), fraction(b.n, a.d)];
  return fraction(left.n * right.n, left.d * right.d);
};
/**
 * The quotient, exact.
 * @throws RangeError when b is zero.
 * @example
 * divide(fraction(3, 8), fraction(1, 8)) // => fraction(3)
 */
export const divide = (a: Fraction, b: Fraction): Fraction => {
  const n = a.n * b.d;
  const d = a.d * b.n;
  return Number.isSafeInteger(n) && Number.isSafeInteger(d)
    ? fraction(n, d)
    : multiply(a, b.n < 0 ? { n: -b.d, d: -b.n } : { n: b.d, d: b.n });
};
/**
 * Times a whole number.
 * @example
 * times(fraction(1, 8), 3) // => fraction(3, 8)
 */
export const times = (a: Fraction, k: number): Fraction => fraction(a.n * k, a.d);
/**
 * The same below zero, or above it.
 * @example
 * negate(fraction(1, 4)) // => fraction(-1, 4)
 */
export const negate = (a: Fraction): Fraction => ({ n: -a.n || 0, d: a.d });

/**
 * Below zero when a < b, zero when equal, above zero when a > b.
 * @example
 * compare(fraction(1, 3), fraction(1, 4)) > 0 // => true
 */
export const compare = (a: Fraction, b: Fraction): number => a.n * b.d - b.n * a.d;
/**
 * Whether two fractions are the same number.
 * @example
 * equal(fraction(2, 8), fraction(1, 4)) // => true
 */
export const equal = (a: Fraction, b: Fraction): boolean => a.n === b.n && a.d === b.d;
/**
 * Whether a < b.
 * @example
 * less(fraction(1, 4), fraction(1, 3)) // => true
 */
export const less = (a: Fraction, b: Fraction): boolean => compare(a, b) < 0;
/**
 * Whether a ≤ b.
 * @example
 * atMost(fraction(1, 4), fraction(1, 4)) // => true
 */
export const atMost = (a: Fraction, b: Fraction): boolean => compare(a, b) <= 0;
/**
 * The smaller of two.
 * @example
 * smaller(fraction(1, 3), fraction(1, 4)) // => fraction(1, 4)
 */
export const smaller = (a: Fraction, b: Fraction): Fraction => (compare(a, b) <= 0 ? a : b);
/**
 * The larger of two.
 * @example
 * larger(fraction(1, 3), fraction(1, 4)) // => fraction(1, 3)
 */
export const larger = (a: Fraction, b: Fraction): Fraction => (compare(a, b) >= 0 ? a : b);
/**
 * The sum of all; zero of none.
 * @example
 * sum([fraction(1, 2), fraction(1, 4)]) // => fraction(3, 4)
 */
export const sum = (all: readonly Fraction[]): Fraction => all.reduce(add, ZERO);
/**
 * The nearest number, for drawing and sound: no longer exact.
 * @example
 * toNumber(fraction(3, 8)) // => 0.375
 */
export const toNumber = (a: Fraction): number => a.n / a.d;
/**
 * The largest whole number not above a.
 * @example
 * floor(fraction(-1, 4)) // => -1
 */
export const floor = (a: Fraction): number => Math.floor(a.n / a.d);
/**
 * The smallest whole number not below a.
 * @example
 * ceil(fraction(9, 4)) // => 3
 */
export const ceil = (a: Fraction): number => Math.ceil(a.n / a.d);
/**
 * What is left of a after whole multiples of b: zero or more, below b. b above zero.
 * @example
 * remainder(fraction(-1, 4), fraction(1)) // => fraction(3, 4)
 */
export const remainder = (a: Fraction, b: Fraction): Fraction => subtract(a, times(b, floor(divide(a, b))));

/**
 * As "n/d", or "n" for a whole number.
 * @example
 * show(fraction(3, 4)) // => '3/4'
 */
export const show = (a: Fraction): string => (a.d === 1 ? String(a.n) : `${String(a.n)}/${String(a.d)}`);

/**
 * Reads "3/4", "2" or "0.375"; undefined when the text is no fraction, or one too fine to be exact.
 * @example
 * parseFraction('0.375') // => fraction(3, 8)
 * parseFraction('a third') // => undefined
 */
export const parseFraction = (text: string): Fraction | undefined => {
  const [, whole, decimals, below] = /^\s*(-?\d+)(?:\.(\d+)|\/(\d+))?\s*$/.exec(text) ?? [];
  if (whole === undefined) return undefined;
  const n = Number(whole + (decimals ?? ''));
  const d = below === undefined ? 10 ** (decimals?.length ?? 0) : Number(below);
  return d > 0 && Number.isSafeInteger(n) && Number.isSafeInteger(d) ? fraction(n, d) : undefined;
};
