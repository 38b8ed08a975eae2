import { inLetters, type Key, scaleMidi, toScale } from '../foundation/key.ts';
import { type Passage, repitched } from './motif.ts';

/**
 * Tonal inversion: each interval turned upside down by scale degree about an axis degree (the
 * first note's when none is given). An alteration turns over too: a raised note becomes lowered.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * invertByScale(idea, 30).notes[0].degree // => 32
 */
export const invertByScale = (passage: Passage, axis = passage.notes[0]?.degree ?? 0): Passage => ({
  ...passage,
  notes: passage.notes.map(note =>
    repitched(note, pitch => ({ degree: 2 * axis - pitch.degree, alter: -pitch.alter || 0 })),
  ),
});

/**
 * Real inversion: each interval turned upside down by semitone about an axis MIDI pitch.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * invertBySemitone(idea, key('C'), 64).notes[0] // => { ...idea.notes[0], degree: 32, alter: 1 }
 */
export const invertBySemitone = (passage: Passage, k: Key, axis?: number): Passage => {
  const first = passage.notes[0];
  const about = axis ?? (first === undefined ? 0 : scaleMidi(k, first));
  const middle = axis === undefined && first !== undefined ? first.degree : toScale(k, about).degree;
  return {
    ...passage,
    notes: passage.notes.map(note =>
      repitched(note, pitch => inLetters(k, 2 * middle - pitch.degree, 2 * about - scaleMidi(k, pitch))),
    ),
  };
};
