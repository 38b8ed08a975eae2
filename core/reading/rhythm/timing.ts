import { TAIL } from './constants.ts';

/**
 * Cost in nats of a strike that falls so many spreads from its place: half the square (a normal
 * distribution), and a straight line from `TAIL` on, for beyond it the strike is an accident.
 * @param z distance in spreads, any sign
 * @example timingCost(2) // => 2
 * @example timingCost(-2) // => 2
 * @example timingCost(10) < 0.5 * 10 ** 2 // => true
 */
export const timingCost = (z: number): number => timingCostOfSquare(z * z);

/** The same from the square of the distance, where only that is known. @example timingCostOfSquare(4) // => 2 */
export const timingCostOfSquare = (z2: number): number =>
  z2 <= TAIL * TAIL ? 0.5 * z2 : 0.5 * TAIL * TAIL + (Math.sqrt(z2) - TAIL) * TAIL;
