import { modulo } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';

/**
 * How smooth two notes sound together, by interval class 1 to 6 (Huron 1994, Music Perception 11(3),
 * aggregate dyadic consonance); a unison or octave is 1.5 by our own choice.
 */
const BY_CLASS: readonly number[] = [1.5, -1.428, -0.582, 0.594, 0.386, 1.24, -0.453];

/**
 * Semitones between two pitches folded into 0 to 6.
 * @example
 * intervalClass(60, 67) // => 5
 * intervalClass(60, 72) // => 0
 */
export const intervalClass = (a: MidiPitch, b: MidiPitch): number => {
  const within = modulo(Math.abs(a - b), 12);
  return Math.min(within, 12 - within);
};

/**
 *
 * @example
 * consonance(60, 67) // => 1.24
 */
export const consonance = (a: MidiPitch, b: MidiPitch): number => BY_CLASS[intervalClass(a, b)] ?? 0;

/**
 * Interval classes that sound as a clash: seconds, sevenths, the tritone.
 * @example
 * isDissonant(60, 61) // => true
 * isDissonant(60, 64) // => false
 */
export const isDissonant = (a: MidiPitch, b: MidiPitch): boolean => [1, 2, 6].includes(intervalClass(a, b));

/**
 * A perfect fifth, octave or unison: what moves hollowly in parallel.
 * @example
 * isPerfect(60, 67) // => true
 * isPerfect(60, 65) // => false
 */
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

/**
 * The family of intervals that two MIDI pitches make, octaves apart or not.
 * @example
 * kindOf(60, 64) // => 'thirds and sixths'
 */
export const kindOf = (a: MidiPitch, b: MidiPitch): IntervalKind => KINDS[intervalClass(a, b)] ?? 'tritones';
