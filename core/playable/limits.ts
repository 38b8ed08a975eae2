import type { Milliseconds } from '../foundation/units.ts';

/** Shortest times two mallets are taken to manage; a teacher may change each for the room. */
export interface HandLimits {
  /** One hand, two strokes in a row. */
  readonly sameHand: Milliseconds;
  /** Hand after hand. */
  readonly alternating: Milliseconds;
  /** Nothing is struck faster than this. */
  readonly hardCap: Milliseconds;
  /** One hand, to a bar more than an octave away. */
  readonly leap: Milliseconds;
}

/** For beginners, all from memory; the cap is 8 strokes a second. */
export const USUAL_LIMITS: HandLimits = { sameHand: 280, alternating: 150, hardCap: 125, leap: 350 };

/** What a limit may be set to, in ms. */
export const LEAST_LIMIT: Milliseconds = 50;
export const MOST_LIMIT: Milliseconds = 1000;
