import { compare, equal, type Fraction, fraction, less, subtract, times } from '../foundation/fraction.ts';
import { gracesOf, type GraceStroke, type Reading, type ReadNote } from '../reading/model/reading.ts';
import { DRAG_STROKES } from '../take/clean.ts';
import type { Take } from '../take/take.ts';

/** Values grace notes are written out in: the longest that has room. */
const WRITTEN_IN: readonly Fraction[] = [fraction(1, 32), fraction(1, 64)];
/** Seconds by which a note may come before the next and be offered as its grace note. Our choice. */
const SOON = 0.125;

/** The grace notes of a note, in order. */
export const gracesOn = (note: ReadNote): readonly GraceStroke[] =>
  note.grace === undefined ? [] : [...(note.ruff ?? []), note.grace];

const withoutGraces = ({ grace: _, ruff: __, ...note }: ReadNote): ReadNote => note;

/**
 * The grace notes of a note as short notes just before it; what was before gives them its end.
 * @returns undefined where there are none, or no room for them
 * @example
 * const flam = { onset: fraction(1, 4), duration: fraction(1, 4), pitch: 60, strike: 1, doubt: 0, grace: { strike: 0, pitch: 62 } };
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [flam], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [1, 1.5, 2], firstBeat: 0 };
 * notesOfGraces(reading, flam).map(n => show(n.onset)) // => ['7/32']
 */
export const notesOfGraces = (reading: Reading, note: ReadNote): readonly ReadNote[] | undefined => {
  const graces = gracesOn(note);
  if (graces.length === 0) return undefined;
  const before = reading.notes
    .filter(n => less(n.onset, note.onset))
    .sort((a, b) => compare(a.onset, b.onset))
    .at(-1);
  const value = WRITTEN_IN.find(
    v => before === undefined || less(before.onset, subtract(note.onset, times(v, graces.length))),
  );
  if (value === undefined) return undefined;
  return graces.map(({ strike, pitch }, i) => ({
    onset: subtract(note.onset, times(value, graces.length - i)),
    duration: value,
    pitch,
    strike,
    doubt: 0,
  }));
};

/** The reading with the grace notes of a note written out; as it was where that cannot be. */
export const withGracesWritten = (reading: Reading, note: ReadNote): readonly ReadNote[] => {
  const graces = notesOfGraces(reading, note);
  if (graces === undefined) return reading.notes;
  return [...reading.notes.map(n => (n === note ? withoutGraces(n) : n)), ...graces];
};

/** A note with others as its grace notes, before those it has. */
export const graced = (note: ReadNote, small: readonly ReadNote[]): ReadNote => ({
  ...withoutGraces(note),
  ...gracesOf([...small.map(({ strike, pitch }) => ({ strike, pitch })), ...gracesOn(note)]),
});

/**
 * The notes before one that may be its grace notes: alone, one soon after the other, three at most.
 * @returns strikes in order; none where there are none
 */
export const gracesBefore = (
  reading: Reading,
  { strikes }: Pick<Take, 'strikes'>,
  note: ReadNote,
): readonly number[] => {
  const line = [...reading.notes].sort((a, b) => compare(a.onset, b.onset) || a.pitch - b.pitch);
  const found: number[] = [];
  let next: ReadNote = note;
  for (const one of line.slice(0, line.indexOf(note)).reverse()) {
    if (equal(one.onset, note.onset)) continue;
    const gap = (strikes[next.strike]?.at ?? NaN) - (strikes[one.strike]?.at ?? NaN);
    const isAlone = !reading.notes.some(n => n !== one && equal(n.onset, one.onset));
    const isSmall = isAlone && one.roll === undefined && one.grace === undefined && gap > 0 && gap <= SOON;
    if (!isSmall || found.length + gracesOn(note).length >= DRAG_STROKES) break;
    found.unshift(one.strike);
    next = one;
  }
  return found;
};
