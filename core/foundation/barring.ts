import { add, atMost, ceil, divide, type Fraction, floor, less, subtract, times, ZERO } from './fraction.ts';
import { barLength, type Metre, sameMetre } from './metre.ts';
import type { BarIndex } from './units.ts';

/** Another metre from a bar (index from 0) on. */
export interface MetreChange {
  readonly bar: BarIndex;
  readonly metre: Metre;
}

/** The metre that holds from a barline on. */
export interface MetreInForce extends MetreChange {
  /** From the first full barline, in semibreves. */
  readonly from: Fraction;
}

/** How music is barred: its metres in order, the first one from bar 0. A metre alone stands for music all in it. */
export type MetresInForce = readonly MetreInForce[];

/**
 * The bars of music that begins in a metre and has others later. Changes at bar 0 and before are none, nor is one to the
 * metre that holds anyway; of two at one bar the later in the list holds.
 * @example
 * barringOf(metre(4, 4), [{ bar: 2, metre: metre(3, 4) }]).map(m => m.from) // => [fraction(0), fraction(2)]
 * barringOf(metre(4, 4), [{ bar: 2, metre: metre(4, 4) }]).length // => 1
 */
export const barringOf = (first: Metre, changes: readonly MetreChange[] = []): MetresInForce => {
  const byBar = new Map([...changes].filter(c => c.bar > 0).map(c => [c.bar, c.metre]));
  const all: MetreInForce[] = [{ bar: 0, metre: first, from: ZERO }];
  for (const [bar, metre] of [...byBar].sort(([a], [b]) => a - b)) {
    const before = all.at(-1);
    if (before === undefined || sameMetre(before.metre, metre)) continue;
    all.push({ bar, metre, from: add(before.from, times(barLength(before.metre), bar - before.bar)) });
  }
  return all;
};

/** A metre alone as bars that are all in it. */
const bars = (m: Metre | MetresInForce): MetresInForce =>
  'upper' in m ? [{ bar: 0, metre: m, from: ZERO }] : m;

const last = (m: MetresInForce, holds: (one: MetreInForce) => boolean): MetreInForce => {
  const found = m.filter((one, i) => i === 0 || holds(one)).at(-1);
  if (found === undefined) throw new RangeError('music begins in some metre');
  return found;
};

/**
 * The metre in force at a place, in semibreves from the first full barline, and where it began.
 * @example
 * metreAtPlace(barringOf(metre(4, 4), [{ bar: 2, metre: metre(3, 4) }]), fraction(2)).metre // => metre(3, 4)
 */
export const metreAtPlace = (m: Metre | MetresInForce, at: Fraction): MetreInForce =>
  last(bars(m), one => atMost(one.from, at));

/**
 * The metre of a bar (index from 0), and where it began.
 * @example
 * metreOfBar(barringOf(metre(4, 4), [{ bar: 2, metre: metre(3, 4) }]), 1).metre // => metre(4, 4)
 */
export const metreOfBar = (m: Metre | MetresInForce, index: BarIndex): MetreInForce =>
  last(bars(m), one => one.bar <= index);

/**
 * The barline of bar `index` (0 is the first full bar), in semibreves, through every change of metre.
 * @example
 * barStart(metre(3, 4), 2) // => fraction(3, 2)
 * barStart(barringOf(metre(4, 4), [{ bar: 1, metre: metre(3, 4) }]), 2) // => fraction(7, 4)
 */
export const barStart = (m: Metre | MetresInForce, index: BarIndex): Fraction => {
  const { from, bar, metre } = metreOfBar(m, index);
  return add(from, times(barLength(metre), index - bar));
};

/**
 * The bar (index from 0) that holds a place; below 0 before the first full barline.
 * @example
 * barIndexAt(barringOf(metre(4, 4), [{ bar: 1, metre: metre(3, 4) }]), fraction(7, 4)) // => 2
 */
export const barIndexAt = (m: Metre | MetresInForce, at: Fraction): BarIndex => {
  const { from, bar, metre } = metreAtPlace(m, at);
  return bar + floor(divide(subtract(at, from), barLength(metre)));
};

/**
 * How many bars it takes from the first full barline up to a place; the last may be only begun.
 * @example
 * barsUpTo(metre(4, 4), fraction(5, 4)) // => 2
 * barsUpTo(metre(4, 4), fraction(1)) // => 1
 */
export const barsUpTo = (m: Metre | MetresInForce, at: Fraction): number => {
  // What ends where a metre begins needs no bar of it.
  const { from, bar, metre } = last(bars(m), one => less(one.from, at));
  return bar + ceil(divide(subtract(at, from), barLength(metre)));
};

/**
 * Whether a bar begins at a place.
 * @example
 * isBarline(metre(4, 4), fraction(3, 4)) // => false
 */
export const isBarline = (m: Metre | MetresInForce, at: Fraction): boolean => {
  const { from, metre } = metreAtPlace(m, at);
  return divide(subtract(at, from), barLength(metre)).d === 1;
};
