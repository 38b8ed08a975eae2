import { add, subtract } from '../foundation/fraction.ts';
import { inOrder, type Passage } from './motif.ts';

/** Retrograde: the order of notes reversed over the passage's whole length, durations travelling with their notes. */
export const retrograde = (passage: Passage): Passage => ({
  ...passage,
  notes: inOrder(
    passage.notes.map(note => ({
      ...note,
      onset: subtract(passage.length, add(note.onset, note.duration)),
    })),
  ),
});
