import { modulo } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';

/**
 * How smooth two notes sound together, by interval class 1 to 6 (Huron 1994, aggregate dyadic
 * consonance, ../shared/facts.md [K]); a unison or octave is 1.5 by our own choice.
 */
const BY_CLASS: readonly number[] = [1.5, -1.428, -0.582, 0.594, 0.386, 1.24, -0.453];

/** Semitones between two pitches folded into 0 to 6. */
export const intervalClass = (a: MidiPitch, b: MidiPitch): number => {
  const within = modulo(Math.abs(a - b), 12);
  return Math.min(within, 12 - within);
};

/** @example consonance(60, 67) // 1.24 */
export const consonance = (a: MidiPitch, b: MidiPitch): number => BY_CLASS[intervalClass(a, b)] ?? 0;

/** Interval classes that sound as a clash: seconds, sevenths, the tritone. */
export const isDissonant = (a: MidiPitch, b: MidiPitch): boolean => [1, 2, 6].includes(intervalClass(a, b));

/** A perfect fifth, octave or unison: what moves hollowly in parallel. */
export const isPerfect = (a: MidiPitch, b: MidiPitch): boolean =>
  [0, 7].includes(modulo(Math.abs(a - b), 12));

export type IntervalKind =
  'thirds and sixths' | 'fourths and fifths' | 'unisons and octaves' | 'seconds and sevenths' | 'tritones';

const KINDS: readonly IntervalKind[] = [
  'unisons and octaves',
  'seconds and sevenths',
  'seconds and sevenths',
  'thirds and sixths',
  'thirds and sixths',
  'fourths and fifths',
  'tritones',
];

export const kindOf = (a: MidiPitch, b: MidiPitch): IntervalKind => KINDS[intervalClass(a, b)] ?? 'tritones';
