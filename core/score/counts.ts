import { divide, equal, type Fraction, fraction, remainder, subtract } from '../foundation/fraction.ts';
import { barLength, beatStarts, type Metre } from '../foundation/metre.ts';
import { beatAt, isTernary } from './levels.ts';

/**
 * What is said when counting a place aloud: "1", "&" for the half beat, "e" and "a" for its
 * quarters, "trip" and "let" for its thirds; a dotted beat is "1 la li"; other places give "·".
 * @param at from the first barline, in semibreves
 * @example
 * countOf(metre(4, 4), fraction(3, 8)) // => '&'
 */
export const countOf = (m: Metre, at: Fraction): string => {
  const inBar = remainder(at, barLength(m));
  const beat = beatAt(m, inBar);
  const number = beatStarts(m).findIndex(start => equal(start, beat.start)) + 1;
  const share = divide(subtract(inBar, beat.start), beat.length);
  if (share.n === 0) return String(number);
  if (isTernary(beat.length)) {
    if (equal(share, fraction(1, 3))) return 'la';
    return equal(share, fraction(2, 3)) ? 'li' : '·';
  }
  const spoken: readonly (readonly [number, number, string])[] = [
    [1, 2, '&'],
    [1, 4, 'e'],
    [3, 4, 'a'],
    [1, 3, 'trip'],
    [2, 3, 'let'],
  ];
  return spoken.find(([n, d]) => equal(share, fraction(n, d)))?.[2] ?? '·';
};
