import { add, type Fraction, fraction, divide, equal, negate, subtract } from '../foundation/fraction.ts';
import { inOrder, type MotifNote, type Passage, upbeatOf, waitOf } from './motif.ts';

/** What an ornamented note becomes: two of half its length, the step over or under it between, or a grace note. */
export type OrnamentFigure = 'twice' | 'upper' | 'lower' | 'grace';

/** One note of a passage, by its number from 0, and its ornament. */
export interface Ornament {
  readonly note: number;
  readonly figure: OrnamentFigure;
}

/**
 * Variation that keeps the rhythm: each note takes the pitch of another note of the passage.
 * @param from for each note the number of the note whose pitch it takes; what names none stays as it is
 * @example
 * const idea = { length: fraction(1), notes: [28, 30].map((degree, i) => ({ onset: fraction(i, 2), duration: fraction(1, 2), degree, alter: 0 })) };
 * varyPitches(idea, [1, 1]).notes.map(n => n.degree) // => [30, 30]
 */
export const varyPitches = (passage: Passage, from: readonly number[]): Passage => ({
  ...passage,
  notes: passage.notes.map((note, i) => {
    const source = passage.notes[from[i] ?? i];
    if (source === undefined) return note;
    // A roll belongs to the rhythm, which stays.
    const { roll: _, ...struck } = source;
    const rolled = note.roll === undefined ? {} : { roll: note.roll };
    return { ...struck, onset: note.onset, duration: note.duration, ...rolled };
  }),
});

/** Notes struck together, and the time from them to the next. */
interface Moment {
  readonly notes: readonly MotifNote[];
  readonly span: Fraction;
}

const momentsOf = (passage: Passage): { readonly start: Fraction; readonly moments: readonly Moment[] } => {
  const end = subtract(subtract(passage.length, waitOf(passage)), upbeatOf(passage));
  const groups: MotifNote[][] = [];
  for (const note of inOrder(passage.notes)) {
    const last = groups.at(-1);
    if (last?.[0] !== undefined && equal(last[0].onset, note.onset)) last.push(note);
    else groups.push([note]);
  }
  const onset = (i: number): Fraction => groups[i]?.[0]?.onset ?? end;
  return {
    start: groups.length === 0 ? negate(upbeatOf(passage)) : onset(0),
    moments: groups.map((notes, i) => ({ notes, span: subtract(onset(i + 1), onset(i)) })),
  };
};

/**
 * How many moments of a passage are struck: what `varyLengths` counts.
 * @example
 * countMoments({ length: fraction(1), notes: [] }) // => 0
 */
export const countMoments = (passage: Passage): number => momentsOf(passage).moments.length;

/**
 * Variation that keeps the pitches: what is struck together takes the length of another such moment, the
 * rest after it included but not what only waits at the end. Every length is used once, so that the passage stays as long as it was; an order
 * that is none leaves the passage as it is.
 * @param from for each moment the number of the moment whose length it takes
 * @example
 * const idea = { length: fraction(1), notes: [[0, 3], [3, 1]].map(([at, long]) => ({ onset: fraction(at, 4), duration: fraction(long, 4), degree: 28, alter: 0 })) };
 * varyLengths(idea, [1, 0]).notes.map(n => show(n.onset)) // => ['0', '1/4']
 */
export const varyLengths = (passage: Passage, from: readonly number[]): Passage => {
  const { start, moments } = momentsOf(passage);
  const used = new Set(from);
  if (from.length !== moments.length || !moments.every((_, i) => used.has(i))) return passage;
  let at = start;
  const notes = moments.flatMap((moment, i) => {
    const source = moments[from[i] ?? i] ?? moment;
    const longest = source.notes.map(note => note.duration).sort((a, b) => b.n * a.d - a.n * b.d)[0];
    const placed = moment.notes.map(note => ({ ...note, onset: at, duration: longest ?? note.duration }));
    at = add(at, source.span);
    return placed;
  });
  return { ...passage, notes };
};

/** Shorter notes are not divided: nobody could read them. */
const LEAST: Fraction = fraction(1, 16);

const ornamented = (note: MotifNote, figure: OrnamentFigure): readonly MotifNote[] => {
  const step = (by: 1 | -1): Pick<MotifNote, 'degree' | 'alter'> => ({ degree: note.degree + by, alter: 0 });
  const { grace: _, ruff: ___, ...again } = note;
  // A line leads on from the last of them.
  const { gliss: ____, ...before } = note;
  if (figure === 'grace') return [{ ...again, grace: step(1) }];
  if (note.duration.n * LEAST.d < LEAST.n * note.duration.d) return [note];
  const half = divide(note.duration, fraction(2));
  const quarter = divide(half, fraction(2));
  const middle = add(note.onset, half);
  const first = { ...before, duration: half };
  if (figure === 'twice') return [first, { ...again, onset: middle, duration: half }];
  const { name: __, gliss: _____, ...plain } = again;
  return [
    first,
    { ...plain, ...step(figure === 'upper' ? 1 : -1), onset: middle, duration: quarter },
    { ...again, onset: add(middle, quarter), duration: quarter },
  ];
};

/**
 * Variation that keeps the notes and ornaments some of them; where they lie in the bar does not change.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 2), degree: 28, alter: 0 }] };
 * ornament(idea, [{ note: 0, figure: 'upper' }]).notes.map(n => n.degree) // => [28, 29, 28]
 */
export const ornament = (passage: Passage, ornaments: readonly Ornament[]): Passage => ({
  ...passage,
  notes: inOrder(
    passage.notes.flatMap((note, i) => {
      const own = ornaments.find(o => o.note === i);
      return own === undefined ? [note] : ornamented(note, own.figure);
    }),
  ),
});
