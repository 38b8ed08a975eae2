import { type Key, spell, writable } from '../foundation/key.ts';
import type { Spelled } from '../foundation/pitch.ts';
import { spellingOf } from '../motif/spellNotes.ts';
import type { Reading, ReadNote } from '../reading/model/reading.ts';

/**
 * How the page spells one of its notes, so that whoever speaks of it says the same.
 * @example
 * const one = (at, pitch) => ({ onset: fraction(at, 4), duration: fraction(1, 4), pitch, strike: at, doubt: 0 });
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [one(0, 64), one(1, 63), one(2, 64)], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [1, 1.5, 2], firstBeat: 0 };
 * pitchName(spelledNote(reading, key('C'), reading.notes[1])) // => 'D♯4'
 */
export const spelledNote = (reading: Reading, k: Key, note: ReadNote): Spelled => {
  const at = reading.notes.findIndex(other => other.strike === note.strike);
  return spellingOf(reading.notes, writable(k))[at] ?? spell(k, note.pitch);
};
