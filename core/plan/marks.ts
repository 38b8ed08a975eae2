import { add, equal, type Fraction, larger, less } from '../foundation/fraction.ts';
import type { Articulation, Dynamic, Hairpin } from './dynamics.ts';
import type { NoteMark } from './noteMarks.ts';
import type { PlacedNote } from './placed.ts';

/** Longest words over the stave, in characters. */
export const LONGEST_WORDS = 40;

/** Marks a pupil sets on a statement; what is not there is not marked. */
export interface StatementMarks {
  /** Written at its first note; holds until another mark in the part. */
  readonly dynamic?: Dynamic;
  /** On every one of its notes. */
  readonly articulation?: Articulation;
  /** From its first note to the end of its last. */
  readonly hairpin?: Hairpin;
  /** One slur over each time through. */
  readonly slurred?: true;
  /** Over each time through a vibraphone's pedal is held down: bars ring on until it is let go. */
  readonly pedalled?: true;
  /** Its last note is held. */
  readonly fermata?: true;
  /** A roll on its last note, or on all its notes: each is struck over and over for as long as it lasts. */
  readonly rolled?: 'last' | 'all';
  /** Marks on single notes. */
  readonly noteMarks?: readonly NoteMark[];
  /** The piece slows down through its last bar. */
  readonly ritardando?: true;
  /** Over the stave at its first note. */
  readonly words?: string;
}

/** Where notes begin, the first and the last of such places. */
const edges = (notes: readonly PlacedNote[]): { first: Fraction; last: Fraction } | undefined => {
  const [one] = notes;
  if (one === undefined) return undefined;
  return notes.reduce(
    (so, { onset }) => ({
      first: less(onset, so.first) ? onset : so.first,
      last: larger(so.last, onset),
    }),
    { first: one.onset, last: one.onset },
  );
};

/** A statement without the marks that belong to its one place: what answers it has its own. */
export const unplaced = <T extends StatementMarks>({
  dynamic: _,
  hairpin: __,
  fermata: ___,
  ritardando: ____,
  words: _____,
  noteMarks: ______,
  ...rest
}: T): Omit<T, 'dynamic' | 'hairpin' | 'fermata' | 'ritardando' | 'words' | 'noteMarks'> => rest;

/**
 * The notes of a statement with its marks on those that carry them. A slur or hairpin wants two notes.
 * @param times the notes of each time through, in order
 */
export const markedNotes = (
  times: readonly (readonly PlacedNote[])[],
  marks: StatementMarks,
): readonly PlacedNote[] => {
  const { dynamic, articulation, hairpin, slurred, pedalled, fermata, rolled, words, noteMarks = [] } = marks;
  const whole = edges(times.flat());
  if (whole === undefined) return [];
  const many = less(whole.first, whole.last);
  return times.flatMap((notes, time) => {
    const own = edges(notes);
    const slur = slurred === true && own !== undefined && less(own.first, own.last);
    return notes.map(({ roll, ...note }, index): PlacedNote => {
      const has = (mark: NoteMark['mark']): boolean =>
        noteMarks.some(m => m.time === time && m.note === index && m.mark === mark);
      const isRolled =
        roll === true || rolled === 'all' || (rolled === 'last' && equal(note.onset, whole.last));
      const begins = equal(note.onset, whole.first);
      const ends = equal(note.onset, whole.last);
      return {
        ...note,
        ...(articulation === undefined ? {} : { articulation }),
        ...(dynamic === undefined || !begins ? {} : { dynamic }),
        ...(words === undefined || words === '' || !begins ? {} : { words }),
        ...(hairpin === undefined || !many || !begins ? {} : { hairpin }),
        ...(hairpin === undefined || !many || !ends ? {} : { hairpinEnds: true }),
        ...((fermata === true && ends) || has('fermata') ? { fermata: true } : {}),
        // How a bar is struck is said of the note itself before it is said of all; what is drawn is not rolled.
        ...(note.gliss === undefined && ((isRolled && !has('dead') && !has('ring')) || has('roll'))
          ? { roll: true }
          : {}),
        ...(has('ring') ? { ring: true } : {}),
        ...(has('dead') ? { dead: true } : {}),
        ...(pedalled === true && own !== undefined && equal(note.onset, own.first) ? { pedal: true } : {}),
        ...(pedalled === true && own !== undefined && equal(note.onset, own.last) ? { pedalEnds: true } : {}),
        ...(slur && equal(note.onset, own.first) ? { slur: 'start' } : {}),
        ...(slur && equal(note.onset, own.last) ? { slur: 'stop' } : {}),
      };
    });
  });
};

/** The stretch in which a ritardando slows down: the last `bar` of what lasts from `start` to `end`. */
export const slowingStretch = (
  start: Fraction,
  end: Fraction,
  bar: Fraction,
): { readonly from: Fraction; readonly to: Fraction } => ({
  from: larger(start, add(end, { n: -bar.n, d: bar.d })),
  to: end,
});
