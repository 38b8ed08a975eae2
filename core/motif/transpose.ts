import { type Key, scaleMidi, scaleSize, toScale } from '../foundation/key.ts';
import type { Phrase } from './motif.ts';

/**
 * Every note moved n degrees of the scale ("up two steps" is a third higher, staying in the key).
 * Notes outside the scale keep their alteration.
 */
export const transposeBySteps = (phrase: Phrase, steps: number): Phrase => ({
  ...phrase,
  notes: phrase.notes.map(note => ({ ...note, degree: note.degree + steps })),
});

/** Every note moved by semitones, leaving the key if need be (real transposition). */
export const transposeBySemitones = (phrase: Phrase, k: Key, semitones: number): Phrase => ({
  ...phrase,
  notes: phrase.notes.map(note => ({ ...note, ...toScale(k, scaleMidi(k, note) + semitones) })),
});

/** Every note moved by whole octaves. */
export const transposeByOctaves = (phrase: Phrase, k: Key, octaves: number): Phrase =>
  transposeBySteps(phrase, octaves * scaleSize(k));
