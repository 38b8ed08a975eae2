/**
 * Costs of the reader are in nats: minus the natural logarithm of a chance. Costs of things that all
 * happen are added; the cost of any one of several is less than the least of them.
 */

/**
 * Cost, in nats, that any one of several alternatives holds: -ln sum exp(-cost), worked out from the
 * least so that neither long takes nor dear alternatives overflow. Infinity for none.
 * @example costOfAny([Math.log(4), Math.log(4)]).toFixed(9) // => Math.log(2).toFixed(9)
 * @example costOfAny([]) // => Infinity
 */
export const costOfAny = (costs: readonly number[]): number => {
  const least = costs.reduce((a, b) => Math.min(a, b), Infinity);
  if (least === Infinity) return Infinity;
  return least - Math.log(costs.reduce((sum, c) => sum + Math.exp(least - c), 0));
};
