/** What a pupil sets on a single note of a statement: rolled, held, left to ring, or struck dead (the mallet stays on the bar). */
export const NOTE_MARKS = ['roll', 'fermata', 'ring', 'dead'] as const;
export type NoteMarkKind = (typeof NOTE_MARKS)[number];

/** A mark on one note of one time through. */
export interface NoteMark {
  /** Which time through, from 0. */
  readonly time: number;
  /** Number of the note in its passage, from 0. */
  readonly note: number;
  readonly mark: NoteMarkKind;
}

/** How a bar is struck and left: one way at a time. */
const STROKES: readonly NoteMarkKind[] = ['roll', 'ring', 'dead'];

/**
 * Marks with one set on a note, or taken away where it is there. A note is rolled, rings on or is dead: one of them.
 * @example
 * const one = toggleMark([], { time: 0, note: 2, mark: 'roll' });
 * toggleMark(one, { time: 0, note: 2, mark: 'dead' }) // => [{ time: 0, note: 2, mark: 'dead' }]
 * toggleMark(one, { time: 0, note: 2, mark: 'roll' }) // => []
 */
export const toggleMark = (
  marks: readonly NoteMark[],
  { time, note, mark }: NoteMark,
): readonly NoteMark[] => {
  const isHere = (m: NoteMark): boolean => m.time === time && m.note === note;
  const others = marks.filter(
    m => !isHere(m) || (m.mark !== mark && !(STROKES.includes(m.mark) && STROKES.includes(mark))),
  );
  return marks.some(m => isHere(m) && m.mark === mark) ? others : [...others, { time, note, mark }];
};

/**
 * The marks of one time through, as those of time `to` of a piece that has kept some of the notes.
 * @param kept numbers of the notes that are left, in order
 * @example
 * marksOfTime([{ time: 2, note: 3, mark: 'ring' }], 2, 0, [1, 3]) // => [{ time: 0, note: 1, mark: 'ring' }]
 */
export const marksOfTime = (
  marks: readonly NoteMark[],
  time: number,
  to: number,
  kept?: readonly number[],
): readonly NoteMark[] =>
  marks.flatMap(m => {
    if (m.time !== time) return [];
    const note = kept === undefined ? m.note : kept.indexOf(m.note);
    return note < 0 ? [] : [{ ...m, time: to, note }];
  });
