import { itemAt } from '../model/at.ts';
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

/**
 * How sure each candidate is. Pages of one rhythm, in other values or another metre, are one answer to what
 * was played: the likeliest of them is as sure as all of them together.
 * @param chances 0 to 1 each
 * @param rhythms the same name for pages of one rhythm, undefined for a rhythm of its own
 * @returns 0 to 1 each, in the same order
 * @example confidencesOf([0.5, 0.25], ['a', 'a']) // => [0.75, 0.25]
 * @example confidencesOf([0.5, 0.25], [undefined, undefined]) // => [0.5, 0.25]
 */
export const confidencesOf = (
  chances: readonly number[],
  rhythms: readonly (string | undefined)[],
): number[] => {
  const sums = new Map<string, number>();
  rhythms.forEach((r, i) => {
    if (r !== undefined) sums.set(r, (sums.get(r) ?? 0) + itemAt(chances, i));
  });
  const told = new Set<string>();
  return chances.map((chance, i) => {
    const r = rhythms[i];
    if (r === undefined || told.has(r)) return chance;
    told.add(r);
    return sums.get(r) ?? chance;
  });
};
