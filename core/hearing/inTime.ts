import type { Seconds } from '../foundation/units.ts';

/** How many of a list in order of time come before a moment. @example countBefore([1, 2, 3], at => at, 3) // => 2 */
export const countBefore = <T>(list: readonly T[], when: (one: T) => Seconds, moment: Seconds): number => {
  let [from, to] = [0, list.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (when(list[middle] as T) < moment) from = middle + 1;
    else to = middle;
  }
  return from;
};

/**
 * What is not before one moment and before another, of a list in order of time. The work is that of what is found.
 * @example
 * betweenMoments([1, 2, 3, 4], at => at, 2, 3.5) // => [2, 3]
 */
export const betweenMoments = <T>(
  list: readonly T[],
  when: (one: T) => Seconds,
  from: Seconds,
  to: Seconds,
): readonly T[] => {
  const found: T[] = [];
  for (let i = countBefore(list, when, from); i < list.length; i++) {
    const one = list[i] as T;
    if (when(one) >= to) break;
    found.push(one);
  }
  return found;
};

/** Things that come in any order, found again by when they were. */
export interface Timeline<T> {
  /** In the order in which they came. */
  readonly all: readonly T[];
  add(one: T): void;
  /** One takes another's place. */
  replace(one: T, other: T): void;
  /** Those that are nearer to a moment than this, and perhaps some that are not, in the order in which they came. */
  near(moment: Seconds, within: Seconds): readonly T[];
}

/** Seconds that share a drawer. */
const DRAWER: Seconds = 0.25;

/**
 * A timeline with nothing on it.
 * @param when something was; what takes another's place was at the same moment
 */
export const createTimeline = <T>(when: (one: T) => Seconds): Timeline<T> => {
  const all: T[] = [];
  /** Places in the list, by drawers of time. */
  const drawers = new Map<number, number[]>();
  const places = new Map<T, number>();
  return {
    all,
    add: one => {
      const drawer = Math.floor(when(one) / DRAWER);
      const mine = drawers.get(drawer);
      if (mine === undefined) drawers.set(drawer, [all.length]);
      else mine.push(all.length);
      places.set(one, all.length);
      all.push(one);
    },
    replace: (one, other) => {
      const place = places.get(one);
      if (place === undefined) return;
      all[place] = other;
      places.delete(one);
      places.set(other, place);
    },
    near: (moment, within) => {
      const found: number[] = [];
      const last = Math.floor((moment + within) / DRAWER);
      for (let d = Math.floor((moment - within) / DRAWER); d <= last; d++) {
        for (const place of drawers.get(d) ?? []) found.push(place);
      }
      return found.sort((a, b) => a - b).map(place => all[place] as T);
    },
  };
};
