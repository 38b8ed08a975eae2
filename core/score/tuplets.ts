import {
  add,
  atMost,
  compare,
  divide,
  type Fraction,
  fraction,
  less,
  subtract,
  times,
} from '../foundation/fraction.ts';
import { beatLengths, beatStarts, type Metre } from '../foundation/metre.ts';
import type { NoteValue } from '../foundation/noteValue.ts';
import { isTernary } from './levels.ts';

/** A stretch of a bar written as a tuplet: `actual` equal parts in the time of `normal`. */
export interface TupletWindow {
  readonly from: Fraction;
  readonly to: Fraction;
  readonly actual: number;
  readonly normal: number;
  /** Drawn value of one part. */
  readonly unit: NoteValue['base'];
}

const isPowerOfTwo = (k: number): boolean => (k & (k - 1)) === 0;

/** The smallest k such that every place is a whole number of k-ths of the window. */
const parts = (from: Fraction, length: Fraction, places: readonly Fraction[]): number =>
  places.reduce((k, place) => {
    const { d } = divide(subtract(place, from), length);
    return lcm(k, d);
  }, 1);

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));
const lcm = (a: number, b: number): number => (a / gcd(a, b)) * b;

const inside = (places: readonly Fraction[], from: Fraction, to: Fraction): Fraction[] =>
  places.filter(place => less(from, place) && less(place, to));

/** Whether this many parts of the window need a tuplet sign in this kind of beat. */
const needsSign = (k: number, ternary: boolean): boolean => {
  if (isPowerOfTwo(k)) return false;
  return !(ternary && k % 3 === 0 && isPowerOfTwo(k / 3));
};

const windowFor = (from: Fraction, length: Fraction, k: number): TupletWindow | undefined => {
  const ternary = isTernary(length);
  let normal = ternary ? 3 : 1;
  while (normal * 2 < k) normal *= 2;
  const unit = divide(length, fraction(normal));
  if (unit.n !== 1 || ![1, 2, 4, 8, 16, 32, 64].includes(unit.d)) return undefined;
  return { from, to: add(from, length), actual: k, normal, unit: unit.d as NoteValue['base'] };
};

/**
 * The tuplets a bar needs, from every place where a note or rest starts or ends (from the
 * barline). The smallest stretch that makes sense is taken: half a beat, a beat, or, where
 * no note keeps the beat between them, two beats (crotchet triplets).
 */
export const tupletWindows = (m: Metre, places: readonly Fraction[]): readonly TupletWindow[] => {
  const starts = beatStarts(m);
  const lengths = beatLengths(m);
  const windows: TupletWindow[] = [];
  for (let i = 0; i < starts.length; i++) {
    const from = starts[i] ?? fraction(0);
    const length = lengths[i] ?? fraction(1, 4);
    const to = add(from, length);
    const here = inside(places, from, to);
    const k = parts(from, length, here);
    if (!needsSign(k, isTernary(length))) continue;
    const next = lengths[i + 1];
    const pairable = next !== undefined && compare(next, length) === 0 && i % 2 === 0 && !isTernary(length);
    if (pairable && !places.some(place => compare(place, to) === 0)) {
      const both = parts(from, times(length, 2), inside(places, from, add(to, length)));
      const wide = both === 3 || both === 6 ? windowFor(from, times(length, 2), both) : undefined;
      if (wide !== undefined) {
        windows.push(wide);
        i++;
        continue;
      }
    }
    const half = divide(length, fraction(2));
    const middle = add(from, half);
    const cutsHalf = !isTernary(length) && places.some(place => compare(place, middle) === 0);
    const first = parts(from, half, inside(places, from, middle));
    const second = parts(middle, half, inside(places, middle, to));
    const narrow = cutsHalf && (!needsSign(first, false) || !needsSign(second, false));
    if (narrow && needsSign(first, false)) push(windows, windowFor(from, half, first));
    else if (narrow && needsSign(second, false)) push(windows, windowFor(middle, half, second));
    else push(windows, windowFor(from, length, k));
  }
  return windows;
};

const push = <T>(list: T[], item: T | undefined): void => {
  if (item !== undefined) list.push(item);
};

/** The tuplet a place lies in, its start included and its end not. */
export const windowAt = (windows: readonly TupletWindow[], at: Fraction): TupletWindow | undefined =>
  windows.find(w => atMost(w.from, at) && less(at, w.to));
