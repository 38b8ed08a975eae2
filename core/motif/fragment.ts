import { add, atMost, type Fraction, less, smaller, subtract } from '../foundation/fraction.ts';
import type { Passage } from './motif.ts';

/**
 * Fragmentation: the notes that start from `from` up to `to` (semibreves), cut at the end of the slice.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * fragment(idea, fraction(1, 4), fraction(1, 2)) // => { length: fraction(1, 4), notes: [] }
 */
export const fragment = (passage: Passage, from: Fraction, to: Fraction): Passage => ({
  length: subtract(to, from),
  notes: passage.notes
    .filter(note => atMost(from, note.onset) && less(note.onset, to))
    .map(note => ({
      ...note,
      onset: subtract(note.onset, from),
      duration: subtract(smaller(add(note.onset, note.duration), to), note.onset),
    })),
});
