import { itemAt } from '../model/at.ts';
import { HELD_FROM } from './constants.ts';

interface Beats {
  /** Seconds of each. */
  readonly all: readonly number[];
  /** Those in which the player did not wait. */
  readonly steady: readonly number[];
}

const beatsOf = (times: ArrayLike<number>): Beats => {
  const at = Array.from(times);
  const all = at.slice(1).map((b, k) => b - itemAt(at, k));
  const middle = itemAt(
    [...all].sort((a, b) => a - b),
    (all.length - 1) >> 1,
  );
  return { all, steady: all.filter(l => l < HELD_FROM * middle) };
};

/**
 * Seconds of a beat on average, without beats in which the player waited: those say nothing of the tempo.
 * @param times of beats in seconds, rising, two or more
 * @example steadyBeat([0, 0.5, 1, 2.2, 2.7]) // => 0.5
 */
export const steadyBeat = (times: ArrayLike<number>): number => {
  const { steady } = beatsOf(times);
  return steady.reduce((sum, l) => sum + l, 0) / steady.length;
};

/**
 * Whether the player waited in one of these beats.
 * @param times of beats in seconds, rising, two or more
 * @example waitedIn([0, 0.5, 1, 2.2, 2.7]) // => true
 */
export const waitedIn = (times: ArrayLike<number>): boolean => {
  const { all, steady } = beatsOf(times);
  return steady.length < all.length;
};
