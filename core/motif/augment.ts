import { divide, type Fraction, multiply } from '../foundation/fraction.ts';
import type { Phrase } from './motif.ts';

/** Augmentation: every duration and onset times the factor (2 by default). One bar becomes two. */
export const augment = (phrase: Phrase, factor: Fraction): Phrase => ({
  length: multiply(phrase.length, factor),
  notes: phrase.notes.map(note => ({
    ...note,
    onset: multiply(note.onset, factor),
    duration: multiply(note.duration, factor),
  })),
});

/** Diminution: every duration and onset divided by the factor. Two statements fit in the time of one. */
export const diminish = (phrase: Phrase, factor: Fraction): Phrase =>
  augment(phrase, divide({ n: 1, d: 1 }, factor));
