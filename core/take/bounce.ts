import type { Seconds, Velocity } from '../foundation/units.ts';

/** The same bar sounding again within this time is the mallet bouncing, however hard. */
export const BOUNCE_WINDOW: Seconds = 0.03;
/** ... and within this time when it is much softer. */
const SOFT_BOUNCE_WINDOW: Seconds = 0.06;
const SOFT_BOUNCE_SHARE = 0.4;

/**
 * Whether a bar sounds again because the mallet bounced.
 * @param gap since the stroke before on the same bar, whose velocity is `before`
 * @example
 * isBounce(0.05, 20, 90) // => true
 * isBounce(0.05, 80, 90) // => false
 */
export const isBounce = (gap: Seconds, velocity: Velocity, before: Velocity = 0): boolean =>
  gap < BOUNCE_WINDOW || (gap < SOFT_BOUNCE_WINDOW && velocity < SOFT_BOUNCE_SHARE * before);
