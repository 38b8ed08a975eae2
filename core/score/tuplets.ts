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

/** Denominator of the shortest value we write: no tuplet is sought in less. */
const SHORTEST = 64;

const QUADRUPLET = 4;
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

/**
 * Whether this many parts of the window need a tuplet sign in this kind of beat. Two in a dotted beat are
 * dotted values; four are a quadruplet, which reads easier than four dotted values half as long.
 */
const needsSign = (k: number, ternary: boolean): boolean => {
  if (isPowerOfTwo(k)) return ternary && k === QUADRUPLET;
  return !(ternary && k % 3 === 0 && isPowerOfTwo(k / 3));
};

const windowFor = (from: Fraction, length: Fraction, k: number): TupletWindow | undefined => {
  const ternary = isTernary(length);
  // Four in a dotted beat are semiquavers there, in the time of six, as a duplet's halves (common practice).
  let normal = ternary && k === QUADRUPLET ? 6 : ternary ? 3 : 1;
  while (normal * 2 < k) normal *= 2;
  const unit = divide(length, fraction(normal));
  if (unit.n !== 1 || ![1, 2, 4, 8, 16, 32, 64].includes(unit.d)) return undefined;
  return { from, to: add(from, length), actual: k, normal, unit: unit.d as NoteValue['base'] };
};

/** Equal shares a stretch divides in: thirds where it is dotted, else halves. */
const shares = (from: Fraction, length: Fraction): readonly Fraction[] => {
  const count = isTernary(length) ? 3 : 2;
  const share = divide(length, fraction(count));
  return Array.from({ length: count }, (_, i) => add(from, times(share, i)));
};

/**
 * The tuplets inside one stretch: none, one over all of it, or those of its halves (thirds, where it is
 * dotted) when not every one of them needs a sign, or when no value is short enough for one over all.
 */
const tupletsIn = (from: Fraction, length: Fraction, places: readonly Fraction[]): TupletWindow[] => {
  const here = inside(places, from, add(from, length));
  const k = parts(from, length, here);
  if (!needsSign(k, isTernary(length))) return [];
  const one = windowFor(from, length, k);
  const starts = shares(from, length);
  const share = divide(length, fraction(starts.length));
  const cut = starts.slice(1).every(start => here.some(place => compare(place, start) === 0));
  const plain = starts.some(
    start => !needsSign(parts(start, share, inside(here, start, add(start, share))), isTernary(share)),
  );
  const apart = cut && plain && !isTernary(length);
  if (one !== undefined && !apart) return [one];
  if (share.d > SHORTEST) return [];
  return starts.flatMap(start => tupletsIn(start, share, here));
};

/**
 * A triplet over two beats, or over four from a strong one (minim triplets): where no note keeps the beats
 * between, and all notes lie on its thirds.
 */
const broad = (
  starts: readonly Fraction[],
  lengths: readonly Fraction[],
  i: number,
  places: readonly Fraction[],
): { readonly window: TupletWindow; readonly beats: number } | undefined => {
  const from = starts[i] ?? fraction(0);
  const length = lengths[i] ?? fraction(1, 4);
  for (const beats of [4, 2]) {
    const mine = lengths.slice(i, i + beats);
    if (i % beats !== 0 || mine.length < beats || isTernary(length)) continue;
    if (!mine.every(other => compare(other, length) === 0)) continue;
    const all = times(length, beats);
    const here = inside(places, from, add(from, all));
    const thirds = parts(from, all, here) === 3;
    const window = thirds ? windowFor(from, all, 3) : undefined;
    if (window !== undefined) return { window, beats };
  }
  return undefined;
};

/**
 * The tuplets a bar needs, from every place where a note or rest starts or ends (from the
 * barline). The smallest stretch that makes sense is taken: part of a beat, a beat, or, where
 * no note keeps the beats between them, two beats (crotchet triplets) or four (minim triplets).
 * @example
 * tupletWindows(metre(4, 4), [fraction(1, 12), fraction(1, 6), fraction(1, 4)]).map(w => [w.actual, w.normal]) // => [[3, 2]]
 */
export const tupletWindows = (m: Metre, places: readonly Fraction[]): readonly TupletWindow[] => {
  const starts = beatStarts(m);
  const lengths = beatLengths(m);
  const windows: TupletWindow[] = [];
  for (let i = 0; i < starts.length; i++) {
    const from = starts[i] ?? fraction(0);
    const length = lengths[i] ?? fraction(1, 4);
    const to = add(from, length);
    const wider = broad(starts, lengths, i, places);
    if (wider !== undefined) {
      windows.push(wider.window);
      i += wider.beats - 1;
      continue;
    }
    const k = parts(from, length, inside(places, from, to));
    if (!needsSign(k, isTernary(length))) continue;
    const next = lengths[i + 1];
    const pairable = next !== undefined && compare(next, length) === 0 && i % 2 === 0 && !isTernary(length);
    if (pairable && !places.some(place => compare(place, to) === 0)) {
      const both = parts(from, times(length, 2), inside(places, from, add(to, length)));
      const wide = both === 6 ? windowFor(from, times(length, 2), both) : undefined;
      if (wide !== undefined) {
        windows.push(wide);
        i++;
        continue;
      }
    }
    windows.push(...tupletsIn(from, length, places));
  }
  return windows;
};

/**
 * The tuplet a place lies in, its start included and its end not.
 * @example
 * windowAt([], ZERO) // => undefined
 */
export const windowAt = (windows: readonly TupletWindow[], at: Fraction): TupletWindow | undefined =>
  windows.find(w => atMost(w.from, at) && less(at, w.to));
