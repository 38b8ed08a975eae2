import { CONFIDENCE } from './constants.ts';

/**
 * Chances of candidates from their costs; what they leave of 1 is for what no candidate says.
 * @param costs in nats, any order
 * @param beatOpen whether the beat was found, not given
 * @returns 0 to 1 each, in the same order
 * @example chancesOf([3], false) // => [0.99]
 * @example chancesOf([3, 3], false) // => [0.495, 0.495]
 */
export const chancesOf = (costs: readonly number[], beatOpen: boolean): number[] => {
  const { temperature, coverage } = beatOpen ? CONFIDENCE.openBeat : CONFIDENCE.knownBeat;
  const least = costs.reduce((a, b) => Math.min(a, b), Infinity);
  const raw = costs.map(c => Math.exp(-(c - least) / temperature));
  const sum = raw.reduce((a, b) => a + b, 0);
  return raw.map(r => (coverage * r) / sum);
};
