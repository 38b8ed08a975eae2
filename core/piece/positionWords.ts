import { add, compare, equal, type Fraction, fraction, multiply, times } from '../foundation/fraction.ts';
import { barLength, beatLengths, beatStarts, isCompound, type Metre } from '../foundation/metre.ts';
import { barAndBeat } from '../plan/beats.ts';
import { barOfPlace, metreAt, placeInBar } from '../score/metreAt.ts';
import type { Score } from '../score/score.ts';
import { countOf } from '../score/counts.ts';

/**
 * A place as it is counted: "bar 1, 2 &"; the beat's number is said where the count does not say it.
 * @example
 * countWords(metre(4, 4), fraction(3, 8)) // => 'bar 1, 2 &'
 */
export const countWords = (m: Metre, at: Fraction): string => {
  const { bar, beat } = barAndBeat(m, at);
  const count = countOf(m, at);
  const inBar = count === String(beat) ? count : `${String(beat)} ${count}`;
  return at.n < 0 ? `upbeat, ${inBar}` : `bar ${String(bar)}, ${inBar}`;
};

/**
 * A place of a score as it is counted, in the metre of its bar.
 * @param at from the first full barline, in semibreves
 */
export const placeWords = (score: Score, at: Fraction): string => {
  const bar = barOfPlace(score.parts[0]?.bars ?? [], at);
  if (bar === undefined || bar.start.n < 0) return countWords(score.metre, at);
  const m = metreAt(score, bar.index);
  return countWords(m, placeInBar(m, bar, at)).replace(/^bar \d+/, `bar ${String(bar.number)}`);
};

/** Parts of a beat a note is usually put at: quarters and thirds, or sixths where the beat is dotted. */
const sharesOf = (m: Metre): readonly Fraction[] =>
  (isCompound(m)
    ? [0, 1, 2, 3, 4, 5].map(n => [n, 6] as const)
    : ([
        [0, 1],
        [1, 4],
        [1, 3],
        [1, 2],
        [2, 3],
        [3, 4],
      ] as const)
  ).map(([n, d]) => fraction(n, d));

/**
 * Every usual place of the bar that holds `at`, in order, with `at` itself among them.
 * @example
 * positionsOfBar(metre(1, 4), ZERO).map(show) // => ['0', '1/16', '1/12', '1/8', '1/6', '3/16']
 */
export const positionsOfBar = (m: Metre, at: Fraction): readonly Fraction[] => {
  const bar = barAndBeat(m, at).bar;
  const start = times(barLength(m), bar - 1);
  const lengths = beatLengths(m);
  const usual = beatStarts(m).flatMap((beat, i) =>
    sharesOf(m).map(share => add(add(start, beat), multiply(lengths[i] ?? fraction(1, 4), share))),
  );
  const all = usual.some(place => equal(place, at)) ? usual : [...usual, at];
  return [...all].sort(compare);
};
