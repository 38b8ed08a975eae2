import { add, atMost, type Fraction, less, smaller, subtract } from '../foundation/fraction.ts';
import type { Passage } from './motif.ts';

/** Fragmentation: the notes that start from `from` up to `to` (semibreves), cut at the end of the slice. */
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
