import type { Hertz, MidiPitch } from './units.ts';

export type Letter = 'C' | 'D' | 'E' | 'F' | 'G' | 'A' | 'B';

/** A pitch as it is written: letter, alteration in semitones (−2 to 2), octave (C4 is middle C). */
export interface Spelled {
  readonly letter: Letter;
  readonly alter: number;
  readonly octave: number;
}

export const LETTERS: readonly Letter[] = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
const SEMITONES: Readonly<Record<Letter, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
/** Places on the line of fifths, C at 0. */
const FIFTHS: Readonly<Record<Letter, number>> = { F: -1, C: 0, G: 1, D: 2, A: 3, E: 4, B: 5 };
const LINE: readonly Letter[] = ['F', 'C', 'G', 'D', 'A', 'E', 'B'];

/**
 * The remainder that is never below zero; b above zero.
 * @example
 * modulo(-1, 12) // => 11
 */
export const modulo = (a: number, b: number): number => ((a % b) + b) % b;

/**
 *
 * @example
 * midiOf({ letter: 'A', alter: 0, octave: 4 }) // => 69
 */
export const midiOf = (s: Spelled): MidiPitch => 12 * (s.octave + 1) + SEMITONES[s.letter] + s.alter;

/**
 * Letters counted from C0 = 0, one a stave step; what places a note on the stave.
 * @example
 * staffPosition({ letter: 'D', alter: 0, octave: 4 }) // => 29
 */
export const staffPosition = (s: Spelled): number => s.octave * 7 + LETTERS.indexOf(s.letter);

/**
 * Place of a letter and alteration on the line of fifths.
 * @example
 * fifthsOf({ letter: 'B', alter: -1 }) // => -2
 */
export const fifthsOf = (s: Pick<Spelled, 'letter' | 'alter'>): number => FIFTHS[s.letter] + 7 * s.alter;

/**
 * The spelling at a place on the line of fifths for a MIDI pitch that has that pitch class.
 * @example
 * spellAtFifths(66, 6) // => { letter: 'F', alter: 1, octave: 4 }
 */
export const spellAtFifths = (pitch: MidiPitch, fifths: number): Spelled => {
  const step = LINE[modulo(fifths + 1, 7)] ?? 'C';
  const alter = Math.floor((fifths + 1) / 7);
  return { letter: step, alter, octave: Math.floor((pitch - alter - SEMITONES[step]) / 12) - 1 };
};

const SIGN: Readonly<Record<string, string>> = { '-2': '𝄫', '-1': '♭', '0': '', '1': '♯', '2': '𝄪' };
/**
 * Letter with its sign.
 * @example
 * letterName({ letter: 'F', alter: 1 }) // => 'F♯'
 */
export const letterName = (s: Pick<Spelled, 'letter' | 'alter'>): string =>
  s.letter + (SIGN[String(s.alter)] ?? '');
/**
 * Letter, sign and octave.
 * @example
 * pitchName({ letter: 'F', alter: 1, octave: 4 }) // => 'F♯4'
 */
export const pitchName = (s: Spelled): string => letterName(s) + String(s.octave);

/**
 * Equal temperament, A4 = 440 Hz (ISO 16).
 * @example
 * frequency(69) // => 440
 */
export const frequency = (pitch: MidiPitch): Hertz => 440 * 2 ** ((pitch - 69) / 12);

/**
 * Whether a pitch lies on a natural (front-row) bar.
 * @example
 * isNatural(61) // => false
 */
export const isNatural = (pitch: MidiPitch): boolean => [0, 2, 4, 5, 7, 9, 11].includes(modulo(pitch, 12));
