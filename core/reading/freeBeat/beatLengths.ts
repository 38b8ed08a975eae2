import { toNumber } from '../../foundation/fraction.ts';
import { isCompound, type Metre, tactus } from '../../foundation/metre.ts';

import type { Hints } from '../model/reading.ts';
import { SHORTEST_BEAT_TRIED, LONGEST_BEAT_TRIED, FREE_BEAT } from './constants.ts';

const lengthsBetween = (low: number, high: number): number[] => {
  const all: number[] = [];
  for (let l = low; l < high; l *= 1.05) all.push(l);
  return all;
};

/**
 * Nats for a beat of so many seconds: a lognormal about the tempo people count at.
 * @param seconds of a beat, above 0
 * @returns nats, 0 at the usual tempo of beats that divide in two
 * @example
 * lengthCost(FREE_BEAT.beat, 2) // => 0
 * lengthCost(0.3, 2) > lengthCost(0.5, 2) // => true
 */
export const lengthCost = (seconds: number, parts: 2 | 3): number => {
  const p = FREE_BEAT;
  const middle = parts === 2 ? p.beat : p.dottedBeat;
  return 0.5 * (Math.log2(seconds / middle) / p.beatSpread) ** 2 + (parts === 3 ? p.compound : 0);
};

/**
 * Kinds of beat a metre allows.
 * @example
 * kindsOf(metre(6, 8)) // => [3]
 * kindsOf(undefined) // => [2, 3]
 */
export const kindsOf = (m: Metre | undefined): readonly (2 | 3)[] => {
  if (m === undefined) return [2, 3];
  return isCompound(m) || (m.upper === 3 && m.lower >= 8) ? [3] : [2];
};

const cellSeconds = (m: Metre | undefined, tempo: number, kinds: readonly (2 | 3)[]): number => {
  const beat = m === undefined ? (kinds[0] === 3 ? 0.375 : 0.25) : toNumber(tactus(m));
  const cell = kinds[0] === 3 ? 0.375 : 0.25;
  return (60 / tempo) * (cell / beat);
};

/**
 * Beat lengths worth trying, and what each costs; few, and free, where the teacher named a tempo.
 * @returns seconds, rising, and nats for each kind of beat
 * @example lengthsTried({ tempo: 100, metre: metre(4, 4) }).lengths.every(l => l > 0.5 && l < 0.7) // => true
 */
export const lengthsTried = (
  hints: Hints,
): { readonly lengths: readonly number[]; readonly cost: (seconds: number, parts: 2 | 3) => number } => {
  if (hints.tempo === undefined)
    return { lengths: lengthsBetween(SHORTEST_BEAT_TRIED, LONGEST_BEAT_TRIED), cost: lengthCost };
  const seconds = cellSeconds(hints.metre, hints.tempo, kindsOf(hints.metre));
  return { lengths: lengthsBetween(seconds * 0.91, seconds * 1.1), cost: () => 0 };
};
