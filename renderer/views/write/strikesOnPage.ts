import { toNumber } from '../../../core/foundation/fraction.ts';
import { gracesOn } from '../../../core/piece/graceEdits.ts';
import { strikePositions } from '../../../core/piece/strikePositions.ts';
import { type Reading, type ReadNote, signStrokes } from '../../../core/reading/model/reading.ts';
import type { Take } from '../../../core/take/take.ts';

/** A strike that has a mark over the stave. */
export interface PlacedStrike {
  readonly strike: number;
  /** Where it fell, in semibreves from the first barline. */
  readonly place: number;
  /** The note it is written as; every stroke of a roll or a glissando leads to its one note. None for a bounce. */
  readonly note: ReadNote | undefined;
}

/**
 * The strikes of a take, each in the system where its note stands; grace strokes have no mark of their own.
 * @param systems from where to where each goes, in order, in semibreves; what lies outside belongs to the first or last,
 * but where notes come after them all, a system is yet to be laid out that has what lies there
 * @returns a list for each system, its strikes in order
 */
export const strikesOnPage = (
  take: Take,
  reading: Reading,
  systems: readonly { readonly to: number }[],
): readonly (readonly PlacedStrike[])[] => {
  const places = strikePositions(take, reading);
  const noteOf = new Map<number, ReadNote>();
  for (const note of reading.notes) for (const strike of signStrokes(note) ?? []) noteOf.set(strike, note);
  for (const note of reading.notes) noteOf.set(note.strike, note);
  const graces = new Set(reading.notes.flatMap(note => gracesOn(note).map(g => g.strike)));
  const rows = systems.map((): PlacedStrike[] => []);
  // The end of one system is the beginning of the next.
  const rowOf = (at: number): PlacedStrike[] | undefined => {
    let low = 0;
    let high = rows.length - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (at < (systems[middle]?.to ?? Infinity) - 1e-9) high = middle;
      else low = middle + 1;
    }
    return rows[low];
  };
  const last = systems.at(-1)?.to ?? 0;
  const goesOn = reading.notes.some(note => toNumber(note.onset) >= last - 1e-9);
  places.forEach((place, strike) => {
    if (graces.has(strike)) return;
    const note = noteOf.get(strike);
    const at = note === undefined ? place : toNumber(note.onset);
    if (!goesOn || at < last - 1e-9) rowOf(at)?.push({ strike, place, note });
  });
  return rows;
};
