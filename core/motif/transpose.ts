import { inLetters, type Key, scaleMidi, scaleSize } from '../foundation/key.ts';
import { type Passage, repitched } from './motif.ts';

/**
 * Every note moved n degrees of the scale ("up two steps" is a third higher, staying in the key).
 * Notes outside the scale keep their alteration.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * transposeBySteps(idea, 2).notes[0].degree // => 30
 */
export const transposeBySteps = (passage: Passage, steps: number): Passage => ({
  ...passage,
  notes: passage.notes.map(note =>
    repitched(note, pitch => ({ degree: pitch.degree + steps, alter: pitch.alter })),
  ),
});

/** Letters spanned by an interval of so many semitones: a second for one or two, a third for three or four (common practice, no source). */
const LETTERS_IN = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6] as const;
const lettersIn = (semitones: number): number => {
  const size = Math.abs(semitones);
  const letters = 7 * Math.floor(size / 12) + (LETTERS_IN[size % 12] ?? 0);
  return semitones < 0 ? -letters : letters;
};

/**
 * Every note moved by semitones, leaving the key if need be (real transposition).
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * scaleMidi(key('C'), transposeBySemitones(idea, key('C'), 3).notes[0]) // => 63
 */
export const transposeBySemitones = (passage: Passage, k: Key, semitones: number): Passage => ({
  ...passage,
  notes: passage.notes.map(note =>
    repitched(note, pitch =>
      inLetters(k, pitch.degree + lettersIn(semitones), scaleMidi(k, pitch) + semitones),
    ),
  ),
});

/**
 * Every note moved by whole octaves.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * transposeByOctaves(idea, key('C'), -1).notes[0].degree // => 21
 */
export const transposeByOctaves = (passage: Passage, k: Key, octaves: number): Passage =>
  transposeBySteps(passage, octaves * scaleSize(k));
