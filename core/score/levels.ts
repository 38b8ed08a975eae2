import { divide, equal, type Fraction, fraction, less, remainder, subtract } from '../foundation/fraction.ts';
import { beatLengths, beatStarts, isCompound, type Metre } from '../foundation/metre.ts';

/**
 * How strong a place in a bar is: 0 the barline, 1 the middle of the bar (beat 3 of four, the
 * second group of 5/4), 2 a beat, 3 its first division, 4 half of that, and so on. 99 marks a
 * place no binary or ternary division of the metre reaches (it lies in a tuplet).
 */
export type Level = number;
export const OFF_GRID: Level = 99;

/** Beat indices that start the second part of a bar. */
const middles = (m: Metre, beats: number): readonly number[] => {
  if (m.groups !== undefined) return [];
  if (beats === 4) return [2];
  if (!isCompound(m) && beats === 5) return [3];
  if (!isCompound(m) && beats === 6) return [3];
  return [];
};

/**
 * The beat that holds a place: its start and length. `at` from the barline, inside the bar.
 * @example
 * beatAt(metre(6, 8), fraction(1, 2)) // => { start: fraction(3, 8), length: fraction(3, 8) }
 */
export const beatAt = (m: Metre, at: Fraction): { readonly start: Fraction; readonly length: Fraction } => {
  const starts = beatStarts(m);
  const lengths = beatLengths(m);
  let found = 0;
  starts.forEach((start, i) => {
    if (!less(at, start)) found = i;
  });
  return { start: starts[found] ?? fraction(0), length: lengths[found] ?? fraction(1, 4) };
};

/**
 * Whether a beat of this length divides in three (dotted) rather than in two.
 * @example
 * isTernary(fraction(3, 8)) // => true
 */
export const isTernary = (length: Fraction): boolean => length.n % 3 === 0;

/**
 * The level of a place in a bar, `at` measured from the barline (0 up to the bar's length).
 * @example
 * levelOf(metre(4, 4), ZERO) // => 0
 * levelOf(metre(4, 4), fraction(1, 4)) // => 2
 */
export const levelOf = (m: Metre, at: Fraction): Level => {
  if (at.n === 0) return 0;
  const starts = beatStarts(m);
  const onBeat = starts.findIndex(start => equal(start, at));
  if (onBeat > 0) return middles(m, starts.length).includes(onBeat) ? 1 : 2;
  const beat = beatAt(m, at);
  let unit = divide(beat.length, fraction(isTernary(beat.length) ? 3 : 2));
  for (let level = 3; level < 8; level++) {
    if (remainder(subtract(at, beat.start), unit).n === 0) return level;
    unit = divide(unit, fraction(2));
  }
  return OFF_GRID;
};

/** Levels of a bar's 64ths, worked out once for each metre: every symbol asks for several. */
const tables = new WeakMap<Metre, readonly Level[]>();
const levelsOf64ths = (m: Metre): readonly Level[] => {
  let table = tables.get(m);
  if (table === undefined) {
    const count = Math.ceil((64 * m.upper) / m.lower);
    table = Array.from({ length: count }, (_, k) => levelOf(m, fraction(k, 64)));
    tables.set(m, table);
  }
  return table;
};

/** Places strictly inside (from, to) whose level is the strongest there; none when only off-grid places lie between. */
export const strongestInside = (
  m: Metre,
  from: Fraction,
  to: Fraction,
): { readonly level: Level; readonly places: readonly Fraction[] } => {
  let level: Level = OFF_GRID;
  let places: Fraction[] = [];
  const table = levelsOf64ths(m);
  const first = Math.floor((from.n * 64) / from.d) + 1;
  for (let k = first; k * to.d < to.n * 64; k++) {
    const here = table[k] ?? levelOf(m, fraction(k, 64));
    if (here < level) {
      level = here;
      places = [fraction(k, 64)];
    } else if (here === level && here < OFF_GRID) places.push(fraction(k, 64));
  }
  return { level, places };
};
