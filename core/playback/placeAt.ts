import { toNumber } from '../foundation/fraction.ts';
import type { Seconds, Semibreves } from '../foundation/units.ts';
import type { Score } from '../score/score.ts';
import { scoreLength } from './perform.ts';
import { secondsAtOnset } from './seconds.ts';

/** A table of places this fine, straight lines between: parts of a semibreve. */
const FINE = 32;

/**
 * What place of a score is heard at a time: `secondsAtOnset` the other way round.
 * @returns seconds from the first bar (upbeat included) to semibreves from the first full barline
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * placesByTime(scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron'))(2) // => 0.5
 */
export const placesByTime = (score: Score): ((seconds: Seconds) => Semibreves) => {
  const length = toNumber(scoreLength(score));
  const upbeat = toNumber(score.upbeat);
  const table: { seconds: number; at: number }[] = [];
  for (let k = 0; k <= Math.ceil(length * FINE); k++) {
    table.push({ seconds: secondsAtOnset(score, { n: k, d: FINE }), at: k / FINE - upbeat });
  }
  return seconds => {
    let low = 0;
    let high = table.length - 1;
    while (low < high - 1) {
      const middle = (low + high) >> 1;
      if ((table[middle]?.seconds ?? 0) <= seconds) low = middle;
      else high = middle;
    }
    const a = table[low];
    const b = table[high];
    if (a === undefined || b === undefined || b.seconds <= a.seconds) return a?.at ?? 0;
    return a.at + ((seconds - a.seconds) / (b.seconds - a.seconds)) * (b.at - a.at);
  };
};
