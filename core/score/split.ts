import {
  add,
  compare,
  equal,
  type Fraction,
  fraction,
  show,
  subtract,
  times,
} from '../foundation/fraction.ts';
import { isCompound, type Metre } from '../foundation/metre.ts';
import { type NoteValue, valueLength, valueOf } from '../foundation/noteValue.ts';
import { beatAt, type Level, levelOf, OFF_GRID, strongestInside } from './levels.ts';

/** One drawn value of a longer length: place from the barline, and value. */
export interface DrawnValue {
  readonly onset: Fraction;
  readonly value: NoteValue;
}

const centred = (from: Fraction, place: Fraction, to: Fraction): boolean =>
  equal(subtract(place, from), subtract(to, place));

/** Metres whose beats are dotted or unequal: what crosses one must begin and end on beats. */
const cutAtBeats = (m: Metre): boolean => isCompound(m) || m.groups !== undefined;

const onBeats = (m: Metre, from: Fraction, to: Fraction): boolean =>
  levelOf(m, from) <= 2 && endLevel(m, to) <= 2;

/**
 * Whether one symbol may stand for a note from `from` to `to`, by the rules of published notation
 * guides (Berklee's): nothing syncopated crosses the middle of the bar,
 * a beat stays visible except in quaver-crotchet-quaver and its halves, and compound metres are
 * cut at every dotted beat.
 */
const noteMayStand = (m: Metre, from: Fraction, to: Fraction): boolean => {
  const { level, places } = strongestInside(m, from, to);
  if (level === OFF_GRID) return true;
  const start = levelOf(m, from);
  const [place] = places;
  const onlyPlace = places.length === 1 && place !== undefined ? place : undefined;
  if (level <= 2 && cutAtBeats(m) && !onBeats(m, from, to)) return false;
  if (level <= 1) return start < level;
  if (level === 2) {
    if (start <= 2) return true;
    return (
      onlyPlace !== undefined &&
      centred(from, onlyPlace, to) &&
      equal(subtract(to, from), beatAt(m, from).length)
    );
  }
  if (start < level) return true;
  const beat = beatAt(m, from);
  const ternary = beat.length.n % 3 === 0;
  if (start === level) return ternary && level === 3;
  // Two equal notes in a dotted beat: each is half of it (common practice, no source).
  if (ternary && equal(times(subtract(to, from), 2), beat.length) && endLevel(m, to) <= 2) return true;
  if (onlyPlace !== undefined && centred(from, onlyPlace, to)) return true;
  // Semiquaver, dotted quaver: ends on the beat, so the beat still shows.
  const threeQuarters = times(divideBy(beat.length, 4), 3);
  return !ternary && level === 3 && equal(subtract(to, from), threeQuarters) && endLevel(m, to) <= 2;
};

/** Rests are at least as strict as notes [common practice, no source]: each starts on something stronger than it crosses. */
const restMayStand = (m: Metre, from: Fraction, to: Fraction, value: NoteValue): boolean => {
  const { level } = strongestInside(m, from, to);
  const start = levelOf(m, from);
  const whole = cutAtBeats(m) && onBeats(m, from, to);
  if (value.dots > 0 && !whole) return false;
  if (level === OFF_GRID) return true;
  if (level <= 2 && cutAtBeats(m)) return start < level && whole;
  if (level === 2 && m.upper === 3) return false;
  return start < level;
};

const divideBy = (a: Fraction, k: number): Fraction => fraction(a.n, a.d * k);

/** Level at the end of a symbol, where the barline counts as 0. */
const endLevel = (m: Metre, to: Fraction): Level =>
  equal(to, fraction(m.upper, m.lower)) ? 0 : levelOf(m, to);

const greedy = (from: Fraction, to: Fraction): DrawnValue[] => {
  const out: DrawnValue[] = [];
  let at = from;
  for (const base of [1, 2, 4, 8, 16, 32, 64] as const) {
    const value: NoteValue = { base, dots: 0 };
    const length = valueLength(value);
    while (compare(add(at, length), to) <= 0) {
      out.push({ onset: at, value });
      at = add(at, length);
    }
  }
  return out;
};

/**
 * The symbols that write a note or rest from `from` to `to` (from the barline, inside one bar and
 * outside tuplets): the fewest that keep the beat visible.
 * @example
 * splitSpan(metre(4, 4), fraction(3, 8), fraction(5, 8), 'note').map(p => valueName(p.value, 'british')) // => ['quaver', 'quaver']
 */
export const splitSpan = (
  m: Metre,
  from: Fraction,
  to: Fraction,
  kind: 'note' | 'rest',
): readonly DrawnValue[] => splitWithin(m, kind, new Map())(from, to);

/** Splits spans of one bar, each once: without that a long upbeat takes time that doubles with every beat. */
const splitWithin = (
  m: Metre,
  kind: 'note' | 'rest',
  known: Map<string, readonly DrawnValue[]>,
): ((from: Fraction, to: Fraction) => readonly DrawnValue[]) => {
  const mayStand = kind === 'note' ? noteMayStand : restMayStand;
  const fewest = (from: Fraction, to: Fraction): readonly DrawnValue[] => {
    const value = valueOf(subtract(to, from));
    if (value !== undefined && mayStand(m, from, to, value)) return [{ onset: from, value }];
    const { level, places } = strongestInside(m, from, to);
    if (level === OFF_GRID) return greedy(from, to);
    const longFirst = kind === 'note' && level === 2 && isCompound(m);
    let best: readonly DrawnValue[] | undefined;
    for (const place of places) {
      const pieces = [...split(from, place), ...split(place, to)];
      // Of ways with as few symbols, the longer value first.
      if (best === undefined || pieces.length < best.length || (longFirst && pieces.length === best.length)) {
        best = pieces;
      }
    }
    return best ?? greedy(from, to);
  };
  const split = (from: Fraction, to: Fraction): readonly DrawnValue[] => {
    const name = `${show(from)} ${show(to)}`;
    const found = known.get(name) ?? fewest(from, to);
    known.set(name, found);
    return found;
  };
  return split;
};
