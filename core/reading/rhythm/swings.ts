import type { SwingTolerance } from '../model/reading.ts';
import { RHYTHM } from './constants.ts';

/** Ratios of a swung pair that are tried, with their cost in nats. */
export interface Swinging {
  readonly ratio: number;
  /** Which pairs swing: halves of a beat or quarters. */
  readonly of: 'half' | 'quarter';
  readonly cost: number;
}

export const STRAIGHT: Swinging = { ratio: 1, of: 'half', cost: 0 };

/** Ratios tried within each tolerance. Beyond it an uneven pair is written as a triplet or dotted figure. */
const RATIOS: Readonly<Record<SwingTolerance, { half: readonly number[]; quarter: readonly number[] }>> = {
  none: { half: [], quarter: [] },
  low: { half: [1.25, 1.5], quarter: [1.5] },
  medium: { half: [1.25, 1.5, 1.75, 2], quarter: [1.6] },
  high: { half: [1.25, 1.5, 1.75, 2, 2.5, 3], quarter: [1.5, 2] },
};

/**
 * The most uneven pair of halves that a tolerance still writes as even.
 * @example
 * mostEven('none') // => 1
 * mostEven('high') // => 3
 */
export const mostEven = (tolerance: SwingTolerance): number => Math.max(1, ...RATIOS[tolerance].half);

/**
 * What is tried within a tolerance: straight, then each ratio of halves and of quarters.
 * @example
 * swingsOf('none') // => [STRAIGHT]
 * swingsOf('low').map(s => s.ratio) // => [1, 1.25, 1.5, 1.5]
 */
export const swingsOf = (tolerance: SwingTolerance): readonly Swinging[] => [
  STRAIGHT,
  ...RATIOS[tolerance].half.map(ratio => ({
    ratio,
    of: 'half' as const,
    // Past 2 to 1 only a teacher who asked for it gets here: it is written even where it can be.
    cost: ratio > 2 ? 0 : RHYTHM.swing.half,
  })),
  ...RATIOS[tolerance].quarter.map(ratio => ({
    ratio,
    of: 'quarter' as const,
    cost: RHYTHM.swing.quarter,
  })),
];

/**
 * A share of a pair as it is played under swing: the first half stretched to end at `second`, the rest
 * pressed into what is left.
 * @param share 0 to 1, as written
 * @param second where the second half of the pair begins, as a share of the pair; 0.5 is even
 * @example bendPair(0.5, 2 / 3) // => 2 / 3
 * @example bendPair(0.25, 0.5) // => 0.25
 */
export const bendPair = (share: number, second: number): number =>
  share < 0.5 ? share * 2 * second : second + (share - 0.5) * 2 * (1 - second);
