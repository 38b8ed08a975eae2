import type { Outline } from './outline.ts';
import type { RegisterRow } from './register.ts';

/** What tunes are compared by. */
export type LikeBy = 'rhythm' | 'contour' | 'both';

/** Shorter outlines are like too many others: from so many steps on they are compared. Our choice. */
export const FEWEST_STEPS = 4;
/** Share of a tune that may be otherwise in what is still found. Our choice, held by test/library/likeness.test.ts. */
const LIKE = 0.25;
/** Gaps may differ by so much of an octave of tempo for nothing: a player's spread. Our choice. */
const SPREAD = 0.35;

/** How far a rhythm without a contour is at least from a tune that has one, so that tunes come first. Our choice. */
const UNTOLD = 0.1;

/**
 * Whether a tune has no contour to be found by: it stays on one bar, or was clapped.
 * @example
 * isFlat({ contour: 'rrr', gaps: [1, 1, 2] }) // => true
 */
export const isFlat = ({ contour }: Outline): boolean => /^r*$/.test(contour);

/** How much two steps differ, from 0 to 1. */
type Differ<T> = (a: T, b: T) => number;

/**
 * The least that must be changed, left out or put in, for one row to be found anywhere within another, as a share of
 * its length (Sellers, The theory and computation of evolutionary distances: pattern recognition, 1980).
 */
const apart = <T>(wanted: readonly T[], within: readonly T[], differ: Differ<T>): number => {
  let before = within.map(() => 0);
  before.push(0);
  wanted.forEach((one, i) => {
    const now = [i + 1];
    within.forEach((other, j) => {
      now.push(Math.min((before[j] ?? 0) + differ(one, other), (before[j + 1] ?? 0) + 1, (now[j] ?? 0) + 1));
    });
    before = now;
  });
  return Math.min(...before) / wanted.length;
};

/** The shorter in the longer: an idea that is played several times holds it, and so does a piece of it. */
const apartEitherWay = <T>(a: readonly T[], b: readonly T[], differ: Differ<T>): number =>
  Math.min(a.length <= b.length ? apart(a, b, differ) : 1, b.length <= a.length ? apart(b, a, differ) : 1);

/** How the gaps follow each other, whatever the tempo: octaves by which each is longer than the one before. */
const pace = ({ gaps }: Outline): readonly number[] =>
  gaps.slice(1).map((gap, i) => Math.log2(gap / (gaps[i] ?? gap)));

const byLetter: Differ<string> = (a, b) => (a === b ? 0 : 1);
const byPace: Differ<number> = (a, b) => Math.min(1, Math.max(0, Math.abs(a - b) - SPREAD) / (1 - SPREAD));

/**
 * How far two tunes are from each other, by rhythm, contour or the one that is further: 0 where one is found whole in the
 * other, 1 where nothing is alike. Tempo and key do not count. Fewer than four steps are like nothing.
 * @example
 * const tune = { contour: 'uudr', gaps: [1, 1, 2, 2] };
 * unlikeness(tune, { contour: 'duudr', gaps: [10, 5, 5, 10, 10] }, 'both') // => 0
 * unlikeness(tune, { contour: 'duudr', gaps: [10, 5, 5, 10, 10] }, 'contour') // => 0
 * unlikeness(tune, { contour: 'uu', gaps: [1, 1] }, 'contour') // => 1
 */
export const unlikeness = (a: Outline, b: Outline, by: LikeBy): number => {
  if (Math.min(a.gaps.length, b.gaps.length) < FEWEST_STEPS) return 1;
  const rhythm = by === 'contour' ? 0 : apartEitherWay(pace(a), pace(b), byPace);
  // A rhythm on one bar, or clapped, has no contour to tell it by.
  const flat = [a, b].filter(isFlat).length;
  const contour =
    by === 'rhythm'
      ? 0
      : by === 'both' && flat > 0
        ? UNTOLD * (2 - flat)
        : apartEitherWay(Array.from(a.contour), Array.from(b.contour), byLetter);
  return Math.max(rhythm, contour);
};

/**
 * The lines whose idea is like a tune, the one it was taken from before all and then the likest; those as like as each other stay in their order.
 * @example
 * rowsLike([], { contour: 'uudr', gaps: [1, 1, 2, 2] }, 'both') // => []
 */
export const rowsLike = (rows: readonly RegisterRow[], tune: Outline, by: LikeBy): readonly RegisterRow[] =>
  rows
    .flatMap(row => {
      const outline = row.facts?.outline;
      const far = outline === tune ? -1 : outline === undefined ? 1 : unlikeness(tune, outline, by);
      return far <= LIKE ? [{ row, far }] : [];
    })
    .sort((a, b) => a.far - b.far)
    .map(({ row }) => row);
