import { add, atMost, type Fraction, less, smaller, subtract } from '../foundation/fraction.ts';
import type { Phrase } from './motif.ts';

/** Fragmentation: the notes that start from `from` up to `to` (semibreves), cut at the end of the slice. */
export const fragment = (phrase: Phrase, from: Fraction, to: Fraction): Phrase => ({
  length: subtract(to, from),
  notes: phrase.notes
    .filter(note => atMost(from, note.onset) && less(note.onset, to))
    .map(note => ({
      ...note,
      onset: subtract(note.onset, from),
      duration: subtract(smaller(add(note.onset, note.duration), to), note.onset),
    })),
});
