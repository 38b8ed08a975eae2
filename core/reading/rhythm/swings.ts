import { PARAMETERS } from '../model/parameters.ts';
import type { SwingTolerance } from '../model/reading.ts';

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

/** The most uneven pair of halves that a tolerance still writes as even. */
export const mostEven = (tolerance: SwingTolerance): number => Math.max(1, ...RATIOS[tolerance].half);

export const swingsOf = (tolerance: SwingTolerance): readonly Swinging[] => [
  STRAIGHT,
  ...RATIOS[tolerance].half.map(ratio => ({
    ratio,
    of: 'half' as const,
    // Past 2 to 1 only a teacher who asked for it gets here: it is written even where it can be.
    cost: ratio > 2 ? 0 : PARAMETERS.swing.half,
  })),
  ...RATIOS[tolerance].quarter.map(ratio => ({
    ratio,
    of: 'quarter' as const,
    cost: PARAMETERS.swing.quarter,
  })),
];
