import { add, type Fraction, larger, less, smaller, subtract, ZERO } from '../foundation/fraction.ts';
import type { NoteName } from '../foundation/enharmonic.ts';
import type { Key, ScalePitch } from '../foundation/key.ts';
import type { Metre } from '../foundation/metre.ts';
import type { Swing } from '../reading/model/reading.ts';
import type { Glissando } from './glissando.ts';

/** One note of a motif, told by the scale of its key. */
export interface MotifNote extends ScalePitch {
  /** From the first barline of the motif, in semibreves; below zero in its upbeat. */
  readonly onset: Fraction;
  /** In semibreves; above zero. */
  readonly duration: Fraction;
  /** A grace note struck just before this one; it takes no time of its own. */
  readonly grace?: ScalePitch;
  /** With it: grace notes before that one, first one first. */
  readonly ruff?: readonly ScalePitch[];
  /** Rolled: struck over and over for as long as it lasts. */
  readonly roll?: true;
  /** A line from here to another bar. */
  readonly gliss?: Glissando;
  /** The name it was given by hand; it holds wherever the note has the pitch that name means. */
  readonly name?: NoteName;
}

/**
 * A note with its pitch changed, and likewise its grace notes' and that to which a glissando leads.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * repitched(idea.notes[0], p => ({ degree: p.degree + 1, alter: 0 })).degree // => 29
 */
export const repitched = (note: MotifNote, change: (pitch: ScalePitch) => ScalePitch): MotifNote => ({
  ...note,
  ...change(note),
  ...(note.grace === undefined ? {} : { grace: change(note.grace) }),
  ...(note.ruff === undefined ? {} : { ruff: note.ruff.map(change) }),
  ...(note.gliss === undefined ? {} : { gliss: { ...note.gliss, to: change(note.gliss.to) } }),
});

/** A stretch of music of known length: what treatments take and give. */
export interface Passage {
  readonly notes: readonly MotifNote[];
  /** From one time through to the next, in semibreves; every note ends within it. */
  readonly length: Fraction;
  /**
   * How far before its first barline it begins, in semibreves; absent for nothing. Onsets count from that
   * barline, so notes of the upbeat lie below zero, and `length` from the start of the upbeat.
   */
  readonly upbeat?: Fraction;
  /** Silence at its end that only waits for its barline: no part of the idea, in semibreves; absent for none. */
  readonly wait?: Fraction;
}

/**
 * How far before its first barline a passage begins, in semibreves; zero or more.
 * @example
 * upbeatOf({ notes: [], length: fraction(1) }) // => ZERO
 */
export const upbeatOf = (passage: Passage): Fraction => passage.upbeat ?? ZERO;

/** The pupil's idea, corrected and named: what a piece is grown from. */
export interface Motif extends Passage {
  readonly key: Key;
  readonly metre: Metre;
  readonly swing?: Swing;
  /** Further motifs of the same take, by their ids; they share the key and the metre. */
  readonly others?: Readonly<Record<string, Passage>>;
}

/**
 * Notes in order of onset, then pitch.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const second = { ...idea.notes[0], onset: fraction(1, 4) };
 * inOrder([second, idea.notes[0]]) // => [idea.notes[0], second]
 */
export const inOrder = (notes: readonly MotifNote[]): MotifNote[] =>
  [...notes].sort((a, b) =>
    less(a.onset, b.onset) ? -1 : less(b.onset, a.onset) ? 1 : a.degree - b.degree || a.alter - b.alter,
  );

/**
 * Where the last note ends.
 * @example
 * const idea = { length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * soundingEnd(idea) // => fraction(1, 4)
 */
export const soundingEnd = (passage: Passage): Fraction =>
  passage.notes.reduce((end, note) => larger(end, add(note.onset, note.duration)), ZERO);

/**
 * How long a passage only waits at its end, in semibreves: never while it still sounds.
 * @example
 * const idea = { length: fraction(1), wait: fraction(1, 2), notes: [{ onset: fraction(0), duration: fraction(3, 4), degree: 28, alter: 0 }] };
 * waitOf(idea) // => fraction(1, 4)
 */
export const waitOf = (passage: Passage): Fraction =>
  passage.wait === undefined
    ? ZERO
    : larger(
        ZERO,
        smaller(passage.wait, subtract(subtract(passage.length, upbeatOf(passage)), soundingEnd(passage))),
      );
