import { divide, type Fraction, multiply } from '../foundation/fraction.ts';
import type { Passage } from './motif.ts';

/** Augmentation: every duration and onset times the factor (2 by default). One bar becomes two. */
export const augment = (passage: Passage, factor: Fraction): Passage => ({
  length: multiply(passage.length, factor),
  notes: passage.notes.map(note => ({
    ...note,
    onset: multiply(note.onset, factor),
    duration: multiply(note.duration, factor),
  })),
});

/** Diminution: every duration and onset divided by the factor. Two statements fit in the time of one. */
export const diminish = (passage: Passage, factor: Fraction): Passage =>
  augment(passage, divide({ n: 1, d: 1 }, factor));
