import type { Semibreves } from '../foundation/units.ts';
import {
  add,
  compare,
  divide,
  type Fraction,
  fraction,
  less,
  multiply,
  remainder,
  subtract,
  toNumber,
} from '../foundation/fraction.ts';
import { barLength, isCompound, type Metre } from '../foundation/metre.ts';
import type { Hints, Reading, ReadNote } from '../reading/model/reading.ts';
import { beatAt } from '../score/levels.ts';

/**
 * The beat that holds a place, counted from the first barline; places below zero lie in the upbeat.
 * @example
 * beatOf(metre(6, 8), fraction(1, 2)) // => { start: fraction(3, 8), length: fraction(3, 8) }
 */
export const beatOf = (m: Metre, at: Fraction): { readonly start: Fraction; readonly length: Fraction } => {
  const bar = barLength(m);
  const inBar = remainder(at, bar);
  const beat = beatAt(m, inBar);
  return { start: add(subtract(at, inBar), beat.start), length: beat.length };
};

/** Whether a place divides its beat in three where the metre divides it in two. */
const inThree = (m: Metre, at: Fraction): boolean =>
  !isCompound(m) && divide(subtract(at, beatOf(m, at).start), beatOf(m, at).length).d % 3 === 0;

/** Whether some note of the beat that holds a place stands at a third of it. */
export const beatIsInThree = (reading: Reading, at: Fraction): boolean => {
  const { start, length } = beatOf(reading.metre, at);
  const end = add(start, length);
  return reading.notes.some(
    n => !less(n.onset, start) && less(n.onset, end) && inThree(reading.metre, n.onset),
  );
};

/** The step a note is moved by: the grid that was chosen, or a semiquaver; a third of a beat in triplets. */
export const gridUnit = (hints: Hints, reading: Reading, note: ReadNote): Fraction => {
  if (beatIsInThree(reading, note.onset))
    return divide(beatOf(reading.metre, note.onset).length, fraction(3));
  const steps: Readonly<Record<string, Fraction>> = {
    beat: fraction(1, 4),
    half: fraction(1, 8),
    eighth: fraction(1, 32),
    triplet: fraction(1, 8),
  };
  return steps[hints.grid ?? 'automatic'] ?? fraction(1, 16);
};

/**
 * The step above or below a place on its own grid: a note between steps goes to the nearest of them that way.
 * @example
 * nextGridPosition(fraction(1, 16), fraction(1, 8), 1) // => fraction(1, 8)
 * nextGridPosition(fraction(1, 8), fraction(1, 8), -1) // => ZERO
 */
export const nextGridPosition = (at: Fraction, by: Fraction, direction: 1 | -1): Fraction => {
  const over = remainder(at, by);
  if (over.n === 0) return direction > 0 ? add(at, by) : subtract(at, by);
  return direction > 0 ? add(subtract(at, over), by) : subtract(at, over);
};

/**
 * The nearest place of a grid. @param at in semibreves, need not be exact
 * @example
 * nearestGridPosition(0.26, fraction(1, 8)) // => fraction(1, 4)
 */
export const nearestGridPosition = (at: Semibreves, by: Fraction): Fraction =>
  fraction(Math.round((at * by.d) / by.n) * by.n, by.d);

/**
 * Pins that write one beat in three, or in two: each note struck in it goes to the nearest third
 * (or quarter), in order, no two to one place where there is room.
 * @param positions where each strike really fell, in semibreves
 */
export const redivide = (
  reading: Reading,
  at: Fraction,
  division: 3 | 4,
  positions: readonly Semibreves[],
): readonly { readonly strike: number; readonly onset: Fraction }[] => {
  const { start, length } = beatOf(reading.metre, at);
  const end = add(start, length);
  const inside = reading.notes
    .filter(n => n.strike >= 0 && !less(n.onset, start) && less(n.onset, end))
    .sort((a, b) => compare(a.onset, b.onset));
  const onsets = [...new Set(inside.map(n => toNumber(n.onset)))];
  const slots = bestSlots(
    onsets.map(onset => {
      const group = inside.filter(n => toNumber(n.onset) === onset);
      const mean = group.reduce((so, n) => so + (positions[n.strike] ?? onset), 0) / group.length;
      return ((mean - toNumber(start)) / toNumber(length)) * division;
    }),
    division,
  );
  return inside.map(n => ({
    strike: n.strike,
    onset: add(start, multiply(length, fraction(slots[onsets.indexOf(toNumber(n.onset))] ?? 0, division))),
  }));
};

/** Rising slots nearest to the wished ones, every way tried: at most 4 of 4. */
const bestSlots = (wished: readonly number[], parts: number): readonly number[] => {
  let best: readonly number[] = wished.map((_, i) => Math.min(i, parts - 1));
  let least = Infinity;
  const go = (chosen: readonly number[], cost: number): void => {
    if (cost >= least) return;
    const i = chosen.length;
    if (i === wished.length) {
      least = cost;
      best = chosen;
      return;
    }
    for (let slot = (chosen.at(-1) ?? -1) + 1; slot < parts; slot++)
      go([...chosen, slot], cost + ((wished[i] ?? 0) - slot) ** 2);
  };
  go([], 0);
  return best;
};
