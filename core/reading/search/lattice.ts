import { fraction, type Fraction, toNumber } from '../../foundation/fraction.ts';
import { barLength, beatLengths, type Metre } from '../../foundation/metre.ts';

/** The reader counts in whole ticks: 192 to a semibreve, so 48 to a crotchet (divides by 3 and 16). */
export const TICKS = 192;

/**
 * A length in semibreves in whole ticks, rounded.
 * @example toTicks(fraction(1, 4)) // => 48
 */
export const toTicks = (length: Fraction): number => Math.round(toNumber(length) * TICKS);
/**
 * Whole ticks as an exact length in semibreves.
 * @example toFraction(48) // => fraction(1, 4)
 */
export const toFraction = (ticks: number): Fraction => fraction(ticks, TICKS);

/**
 * A cell is the stretch of time whose division is decided at once: a beat, or a crotchet where the
 * beat is a minim. It divides first in two or in three.
 */
export interface Cell {
  /** From the barline, in ticks. */
  readonly start: number;
  /** In ticks. */
  readonly length: number;
  readonly parts: 2 | 3;
  /** Weight in the bar: 0 the barline, 1 the half bar, 2 a beat, 3 between beats. */
  readonly weight: 0 | 1 | 2 | 3;
}

export interface Lattice {
  readonly metre: Metre;
  /** Ticks in a bar. */
  readonly bar: number;
  readonly cells: readonly Cell[];
}

/** Longest simple beat that is one cell: a crotchet. Minims are read as two crotchets. */
const LONGEST_SIMPLE = TICKS / 4;

/**
 * The cells of one bar of a metre.
 * @example
 * latticeOf(metre(6, 8)).cells.length // => 2
 */
export const latticeOf = (m: Metre): Lattice => {
  const bar = toTicks(barLength(m));
  const pulse = TICKS / m.lower;
  const cells: Cell[] = [];
  let start = 0;
  for (const beat of beatLengths(m)) {
    const length = toTicks(beat);
    const three = length === 3 * pulse;
    const pieces = three ? 1 : length > LONGEST_SIMPLE ? Math.round(length / LONGEST_SIMPLE) : 1;
    for (let i = 0; i < pieces; i++) {
      const at = start + (i * length) / pieces;
      const weight = at === 0 ? 0 : i > 0 ? 3 : 2 * at === bar ? 1 : 2;
      cells.push({ start: at, length: length / pieces, parts: three ? 3 : 2, weight });
    }
    start += length;
  }
  return { metre: m, bar, cells };
};
