/**
 * The prior over rhythms, one cell at a time: which places of a beat are struck. A pattern is a
 * division of the cell and a mask of struck slots, slot 0 in the lowest bit, written in the coarsest
 * division that can hold it, so that each rhythm has exactly one spelling.
 * Costs are in nats (minus the logarithm of a probability).
 */

/** Divisions the reader knows, with their bit in a vocabulary. */
export const DIVISIONS = [1, 2, 3, 4, 6, 8, 12] as const;
export type Division = (typeof DIVISIONS)[number];

/** A pattern as one number: division × 4096 + mask. */
export type Pattern = number;
/**
 * A pattern from its division and the mask of its struck slots.
 * @example maskOf(patternOf(4, 0b1001)) // => 0b1001
 */
export const patternOf = (division: Division, mask: number): Pattern => division * 4096 + mask;
/**
 * 0 for the empty pattern, which divides nothing.
 * @example divisionOf(patternOf(3, 0b111)) // => 3
 */
export const divisionOf = (pattern: Pattern): Division | 0 => (pattern >> 12) as Division | 0;
/**
 * The struck slots of a pattern, slot 0 in the lowest bit.
 * @example maskOf(patternOf(2, 0b10)) // => 0b10
 */
export const maskOf = (pattern: Pattern): number => pattern & 4095;

const stretch = (mask: number, from: number, to: number): number => {
  let out = 0;
  for (let i = 0; i < from; i++) if (mask & (1 << i)) out |= 1 << ((i * to) / from);
  return out;
};

/** Slots of a coarser division inside a finer one, as a mask. */
const within = (coarse: number, fine: number): number => stretch((1 << coarse) - 1, coarse, fine);

/**
 * Whether a mask needs this division (it could not be written in a coarser one).
 * @example
 * needs(4, 0b1001) // => true
 * needs(4, 0b0101) // => false
 */
export const needs = (division: Division, mask: number): boolean =>
  division === 1 ||
  DIVISIONS.every(d => d >= division || division % d !== 0 || (mask & ~within(d, division)) !== 0);

/**
 * How many slots of a mask are struck.
 * @example strikesIn(0b1011) // => 3
 */
export const strikesIn = (mask: number): number => {
  let n = 0;
  for (let m = mask; m !== 0; m &= m - 1) n++;
  return n;
};
