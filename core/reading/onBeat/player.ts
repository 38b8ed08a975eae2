import { PLAYER } from './constants.ts';

/**
 * Cost in nats of a player whose strikes spread so widely, with the density of so many strikes: a
 * lognormal about the usual spread, and the logarithm that a normal distribution of another width costs
 * at each of its points.
 * @param spread seconds, above 0
 * @param strikes how many were observed, 0 or more
 * @example spreadCost(0.026, 8) // => 0
 */
export const spreadCost = (spread: number, strikes: number): number => {
  const z = Math.log(spread / PLAYER.spread);
  return strikes * z + 0.5 * (z / PLAYER.spreadOfSpread) ** 2;
};

/**
 * Cost in nats of a player who is late by so much altogether, a normal distribution.
 * @param late seconds, early below 0
 * @example lateCost(-0.003) // => 0
 */
export const lateCost = (late: number): number => 0.5 * ((late - PLAYER.late) / PLAYER.lateSpread) ** 2;
