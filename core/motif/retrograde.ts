import { add, subtract } from '../foundation/fraction.ts';
import { inOrder, type Phrase } from './motif.ts';

/** Retrograde: the order of notes reversed over the phrase's whole length, durations travelling with their notes. */
export const retrograde = (phrase: Phrase): Phrase => ({
  ...phrase,
  notes: inOrder(
    phrase.notes.map(note => ({
      ...note,
      onset: subtract(phrase.length, add(note.onset, note.duration)),
    })),
  ),
});
