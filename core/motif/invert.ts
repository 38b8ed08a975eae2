import { type Key, scaleMidi, toScale } from '../foundation/key.ts';
import { type Phrase, repitched } from './motif.ts';

/**
 * Tonal inversion: each interval turned upside down by scale degree about an axis degree (the
 * first note's when none is given). An alteration turns over too: a raised note becomes lowered.
 */
export const invertByScale = (phrase: Phrase, axis = phrase.notes[0]?.degree ?? 0): Phrase => ({
  ...phrase,
  notes: phrase.notes.map(note =>
    repitched(note, pitch => ({ degree: 2 * axis - pitch.degree, alter: -pitch.alter || 0 })),
  ),
});

/** Real inversion: each interval turned upside down by semitone about an axis MIDI pitch. */
export const invertBySemitone = (phrase: Phrase, k: Key, axis?: number): Phrase => {
  const first = phrase.notes[0];
  const about = axis ?? (first === undefined ? 0 : scaleMidi(k, first));
  return {
    ...phrase,
    notes: phrase.notes.map(note => repitched(note, pitch => toScale(k, 2 * about - scaleMidi(k, pitch)))),
  };
};
