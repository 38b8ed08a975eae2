import { type Key, scaleMidi, scaleSize, toScale } from '../foundation/key.ts';
import { type Phrase, repitched } from './motif.ts';

/**
 * Every note moved n degrees of the scale ("up two steps" is a third higher, staying in the key).
 * Notes outside the scale keep their alteration.
 */
export const transposeBySteps = (phrase: Phrase, steps: number): Phrase => ({
  ...phrase,
  notes: phrase.notes.map(note =>
    repitched(note, pitch => ({ degree: pitch.degree + steps, alter: pitch.alter })),
  ),
});

/** Every note moved by semitones, leaving the key if need be (real transposition). */
export const transposeBySemitones = (phrase: Phrase, k: Key, semitones: number): Phrase => ({
  ...phrase,
  notes: phrase.notes.map(note => repitched(note, pitch => toScale(k, scaleMidi(k, pitch) + semitones))),
});

/** Every note moved by whole octaves. */
export const transposeByOctaves = (phrase: Phrase, k: Key, octaves: number): Phrase =>
  transposeBySteps(phrase, octaves * scaleSize(k));
