import {
  add,
  divide,
  equal,
  type Fraction,
  fraction,
  less,
  remainder,
  show,
  subtract,
} from '../foundation/fraction.ts';
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

/**
 * Beats on which nothing is struck, in a stretch of the page: to be counted silently.
 * @param from first place of the stretch, in semibreves from the first barline
 * @param to where it ends; not in it
 * @param struck where something is struck
 * @returns places in order, each with the number of its beat
 * @example
 * unstruckBeats(metre(2, 4), fraction(0), fraction(1, 2), [fraction(0), fraction(1, 8)]) // => [{ at: fraction(1, 4), count: '2' }]
 */
export const unstruckBeats = (
  m: Metre,
  from: Fraction,
  to: Fraction,
  struck: readonly Fraction[],
): readonly { readonly at: Fraction; readonly count: string }[] => {
  const bar = barLength(m);
  const isStruck = new Set(struck.map(show));
  const silent: { at: Fraction; count: string }[] = [];
  for (let start = subtract(from, remainder(from, bar)); less(start, to); start = add(start, bar)) {
    for (const [i, beat] of beatStarts(m).entries()) {
      const at = add(start, beat);
      if (less(at, from) || !less(at, to) || isStruck.has(show(at))) continue;
      silent.push({ at, count: String(i + 1) });
    }
  }
  return silent;
};
