import { divide, type Fraction, multiply } from '../foundation/fraction.ts';
import type { Passage } from './motif.ts';

/**
 * Augmentation: every duration and onset times the factor (2 by default). One bar becomes two.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * augment(idea, fraction(2)).notes[0].duration // => fraction(1, 2)
 */
export const augment = (passage: Passage, factor: Fraction): Passage => ({
  length: multiply(passage.length, factor),
  ...(passage.upbeat === undefined ? {} : { upbeat: multiply(passage.upbeat, factor) }),
  ...(passage.wait === undefined ? {} : { wait: multiply(passage.wait, factor) }),
  notes: passage.notes.map(note => ({
    ...note,
    onset: multiply(note.onset, factor),
    duration: multiply(note.duration, factor),
  })),
});

/**
 * Diminution: every duration and onset divided by the factor. Two statements fit in the time of one.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * diminish(idea, fraction(2)).length // => fraction(1, 2)
 */
export const diminish = (passage: Passage, factor: Fraction): Passage =>
  augment(passage, divide({ n: 1, d: 1 }, factor));
