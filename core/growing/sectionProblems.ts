import type { Problem } from '../foundation/result.ts';

/** As many bars as a piece may have. */
export const MOST_BARS = 400;

/** Bars that no piece has, or that are not of this one ('out-of-range'). */
export const wrongBars = (): Problem => ({
  kind: 'out-of-range',
  what: 'Those bars cannot be used here.',
  kept: 'Nothing was changed.',
  next: `Choose bars of the piece; it may grow to ${String(MOST_BARS)} bars.`,
});

/** Bars in which nothing is played ('not-found'). */
export const emptyBars = (): Problem => ({
  kind: 'not-found',
  what: 'Nothing sounds in those bars.',
  kept: 'Nothing was changed.',
  next: 'Choose bars in which something is played.',
});
