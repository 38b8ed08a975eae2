import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { add, divide, type Fraction, fraction, multiply } from '../../core/foundation/fraction.ts';
import { FINEST_GRID } from '../../core/library/limits.ts';

const divisors = [
  1,
  7,
  4096,
  243,
  25,
  49,
  4096 * 243,
  4096 * 243 * 25,
  243 * 25 * 49,
  4096 * 49,
  FINEST_GRID,
];
/** Places as far out and as fine as saved files may have them. */
const place = fc
  .record({ d: fc.constantFrom(...divisors), share: fc.integer({ min: -(10 ** 9), max: 10 ** 9 }) })
  .map(({ d, share }) => fraction(Math.round((share / 10 ** 9) * 8192 * d), d));

/** Cross-multiplied in whole numbers without end: JavaScript's own, beside ours. */
const isSum = (a: Fraction, b: Fraction, c: Fraction): boolean =>
  (BigInt(a.n) * BigInt(b.d) + BigInt(b.n) * BigInt(a.d)) * BigInt(c.d) ===
  BigInt(c.n) * BigInt(a.d) * BigInt(b.d);
const isProduct = (a: Fraction, b: Fraction, c: Fraction): boolean =>
  BigInt(a.n) * BigInt(b.n) * BigInt(c.d) === BigInt(c.n) * BigInt(a.d) * BigInt(b.d);

describe('fractions whose products are beyond whole numbers', () => {
  it('are added exactly where the sum is within reach', () => {
    fc.assert(
      fc.property(place, place, (a, b) => {
        expect(isSum(a, b, add(a, b))).toBe(true);
      }),
    );
  });

  it('are multiplied and divided exactly where what comes out is within reach', () => {
    const far = fraction(3 * 2 ** 30, 5 ** 10);
    expect(multiply(far, fraction(5 ** 10, 2 ** 30))).toEqual(fraction(3));
    expect(divide(far, fraction(-(2 ** 30), 5 ** 10))).toEqual(fraction(-3));
    fc.assert(
      fc.property(place, fc.constantFrom(2, 3, 4, 7), fc.constantFrom(1, 2, 3), (a, n, d) => {
        const by = fraction(n, d);
        expect(isProduct(a, by, multiply(a, by))).toBe(true);
        expect(isProduct(divide(a, by), by, a)).toBe(true);
      }),
    );
  });

  it('are no fractions beyond it', () => {
    expect(() => multiply(fraction(2 ** 40 + 1), fraction(2 ** 40 + 3))).toThrow('no exact fraction');
  });
});
