import { bendPair } from '../rhythm/swings.ts';

// What the search places, and what it places it on.

/** The cells a take reaches over. */
export interface CellRow {
  /** Start of each cell in ticks, and one more for the end of the last. */
  readonly start: Int32Array;
  /** The same in seconds. */
  readonly at: Float64Array;
  readonly parts: Uint8Array;
  readonly weight: Uint8Array;
}

/**
 * What is known of each event: one time, or several when the same moment was played several times
 * (repeats), each that many cells after the first.
 */
export interface Evidence {
  readonly events: number;
  /** Observations of event i: from[i] up to from[i + 1]. */
  readonly from: Int32Array;
  /** Seconds. */
  readonly at: Float64Array;
  /** Cells by which an observation lies after the place that is decided. */
  readonly shift: Int32Array;
  /** Place in ticks that an event must have, or NO_PIN. */
  readonly pin: Int32Array;
  /** The page the teacher sees, where there is one. */
  readonly page?: PagePrior;
}

/** Where events stand on the page the teacher sees, and what she has let them do, in ticks; NO_PIN for none. */
export interface PagePrior {
  readonly stands: Int32Array;
  /** Where the same figure was put elsewhere on the page. */
  readonly follows: Int32Array;
  /** Nats for leaving the position an event has. */
  readonly leaves: Float64Array;
}

export const NO_PIN = -0x40000000;

/** How the player plays. */
export interface Performance {
  /** Seconds: spread of strikes about their place. */
  readonly spread: number;
  /** Seconds: how late all of them are (early below zero). */
  readonly late: number;
  /** Where the second half of a swung pair begins, as a share of the pair: 0.5 is even. */
  readonly swingHalf: number;
  /** The same for pairs of quarters. */
  readonly swingQuarter: number;
}

/**
 * A share of a cell as it is played under swing of its halves or of its quarters.
 * @param share 0 to 1, as written
 * @example swung(0.5, { spread: 0.02, late: 0, swingHalf: 0.6, swingQuarter: 0.5 }) // => 0.6
 */
export const swung = (share: number, performance: Performance): number => {
  if (performance.swingHalf !== 0.5) return bendPair(share, performance.swingHalf);
  if (performance.swingQuarter === 0.5) return share;
  const base = share < 0.5 ? 0 : 0.5;
  return base + bendPair((share - base) * 2, performance.swingQuarter) / 2;
};
