import { add, type Fraction, larger, less, ZERO } from '../foundation/fraction.ts';
import type { Key, ScalePitch } from '../foundation/key.ts';
import type { Metre } from '../foundation/metre.ts';
import type { Swing } from '../reading/model/reading.ts';

/** One note of a motif, told by the scale of its key. */
export interface MotifNote extends ScalePitch {
  /** From the start of the motif, in semibreves. */
  readonly onset: Fraction;
  /** In semibreves; above zero. */
  readonly duration: Fraction;
  /** A grace note struck just before this one; it takes no time of its own. */
  readonly grace?: ScalePitch;
}

/** A note with its pitch changed, and its grace note's likewise. */
export const repitched = (note: MotifNote, change: (pitch: ScalePitch) => ScalePitch): MotifNote => ({
  ...note,
  ...change(note),
  ...(note.grace === undefined ? {} : { grace: change(note.grace) }),
});

/** A stretch of music of known length: what treatments take and give. */
export interface Passage {
  readonly notes: readonly MotifNote[];
  /** In semibreves; every note ends by then. */
  readonly length: Fraction;
}

/** The pupil's idea, corrected and named: what a piece is grown from. */
export interface Motif extends Passage {
  readonly key: Key;
  readonly metre: Metre;
  readonly swing?: Swing;
  /** Further motifs of the same take, by their ids; they share the key and the metre. */
  readonly others?: Readonly<Record<string, Passage>>;
}

/** Notes in order of onset, then pitch. */
export const inOrder = (notes: readonly MotifNote[]): MotifNote[] =>
  [...notes].sort((a, b) =>
    less(a.onset, b.onset) ? -1 : less(b.onset, a.onset) ? 1 : a.degree - b.degree || a.alter - b.alter,
  );

/** Where the last note ends. */
export const soundingEnd = (passage: Passage): Fraction =>
  passage.notes.reduce((end, note) => larger(end, add(note.onset, note.duration)), ZERO);
