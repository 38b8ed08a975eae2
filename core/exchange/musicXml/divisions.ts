import { divide, fraction, type Fraction, multiply } from '../../foundation/fraction.ts';
import type { Score } from '../../score/score.ts';

/** Divisions of a crotchet that make every length of the score a whole number. */
export const divisionsFor = (score: Score): number => {
  let divisions = 1;
  for (const part of score.parts) {
    for (const bar of part.bars) {
      for (const length of [bar.length, ...bar.symbols.map(s => s.duration)]) {
        const d = divide(length, fraction(1, 4)).d;
        divisions = (divisions / gcd(divisions, d)) * d;
      }
    }
  }
  return divisions;
};
const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/** A length in divisions of a crotchet. */
export const ticks = (length: Fraction, divisions: number): number => {
  const exact = multiply(length, fraction(4 * divisions));
  return exact.n / exact.d;
};
