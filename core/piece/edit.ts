import {
  add,
  compare,
  equal,
  type Fraction,
  larger,
  less,
  negate,
  smaller,
  subtract,
  ZERO,
} from '../foundation/fraction.ts';
import type { NoteName } from '../foundation/enharmonic.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { GraceStroke, Reading, ReadNote } from '../reading/model/reading.ts';
import { graced, withGracesWritten } from './graceEdits.ts';
import { ledAlong, withGliss, withoutGliss } from './glissEdits.ts';
import { withoutRoll, withRoll } from './rollEdits.ts';

/**
 * One correction of a reading, as data. Notes are named by the strike they come from; a note the
 * teacher added has a number below zero of its own. The take is never touched.
 */
export type Edit =
  | { readonly kind: 'move'; readonly note: number; readonly onset: Fraction }
  | { readonly kind: 'length'; readonly note: number; readonly duration: Fraction }
  /** `heard`: not by hand, but by hearing the take once more. */
  | { readonly kind: 'pitch'; readonly note: number; readonly pitch: MidiPitch; readonly heard?: true }
  /** Another name for the same pitch. */
  | { readonly kind: 'respell'; readonly note: number; readonly name: NoteName }
  | { readonly kind: 'delete'; readonly note: number; readonly heard?: true }
  | { readonly kind: 'rest'; readonly note: number }
  /** The note and those of `more` become one that is rolled. */
  | { readonly kind: 'roll'; readonly note: number; readonly more: readonly number[] }
  /** A roll written out as its strokes. */
  | { readonly kind: 'unroll'; readonly note: number }
  /** The note and those of `more` become one with a line over bars, which may lead into the note after them. */
  | {
      readonly kind: 'gliss';
      readonly note: number;
      readonly more: readonly number[];
      readonly into?: number;
    }
  /** A glissando written out as its strokes. */
  | { readonly kind: 'ungliss'; readonly note: number }
  /** Notes before it become its grace notes. */
  | { readonly kind: 'grace'; readonly note: number; readonly from: readonly number[] }
  /** Its grace notes written out as short notes before it. */
  | { readonly kind: 'ungrace'; readonly note: number }
  | {
      readonly kind: 'add';
      readonly note: number;
      readonly onset: Fraction;
      readonly duration: Fraction;
      readonly pitch: MidiPitch;
    };

const byPlace = (a: ReadNote, b: ReadNote): number => compare(a.onset, b.onset) || a.pitch - b.pitch;

const endOf = (note: ReadNote): Fraction => add(note.onset, note.duration);

/** Cuts each note at the next onset, so that one line never overlaps itself. */
const cutAtNext = (notes: readonly ReadNote[]): ReadNote[] => {
  const sorted = [...notes].sort(byPlace);
  return sorted.map((note, i) => {
    const next = sorted.slice(i + 1).find(other => less(note.onset, other.onset));
    if (next === undefined) return note;
    return { ...note, duration: subtract(smaller(endOf(note), next.onset), note.onset) };
  });
};

/** Lets notes that ran up to a place (the gap's start) run on to `to`. */
const glue = (notes: readonly ReadNote[], place: Fraction, to: Fraction): ReadNote[] =>
  notes.map(note =>
    equal(endOf(note), place) && less(note.onset, to)
      ? { ...note, duration: subtract(to, note.onset) }
      : note,
  );

/**
 * A reading with one correction made. Moving keeps the end of the moved note where it was when it
 * still lies after the new onset, and a neighbour that ran up to it runs up to it still. Deleting
 * lets the note before run on; making a rest leaves the silence.
 * @example
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [{ onset: ZERO, duration: fraction(1, 4), pitch: 60, strike: 0, doubt: 0.2 }], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [1, 1.5, 2], firstBeat: 0 };
 * applyEdit(reading, { kind: 'pitch', note: 0, pitch: 62 }).notes[0].pitch // => 62
 */
export const applyEdit = (reading: Reading, edit: Edit): Reading => {
  const others = reading.notes.filter(note => note.strike !== edit.note);
  const note = reading.notes.find(n => n.strike === edit.note);
  const done = (notes: readonly ReadNote[]): Reading => withNotes(reading, cutAtNext(notes));
  if (edit.kind === 'add') {
    if (note !== undefined || edit.duration.n <= 0) return reading;
    const { onset, duration, pitch } = edit;
    return done([...reading.notes, { onset, duration, pitch, strike: edit.note, doubt: 0 }]);
  }
  if (note === undefined) return reading;
  switch (edit.kind) {
    case 'move': {
      const end = less(edit.onset, endOf(note)) ? endOf(note) : add(edit.onset, note.duration);
      const moved = sure({ ...note, onset: edit.onset, duration: subtract(end, edit.onset) });
      const alone = !others.some(other => equal(other.onset, note.onset));
      return done([...(alone ? glue(others, note.onset, edit.onset) : others), moved]);
    }
    case 'length':
      if (edit.duration.n <= 0) return reading;
      return done([...others, sure({ ...note, duration: edit.duration })]);
    case 'pitch':
      return done([...ledAlong(others, note, edit.pitch), atPitch(note, edit.pitch)]);
    case 'respell':
      return withNotes(
        reading,
        reading.notes.map(other => (other === note ? { ...other, name: edit.name } : other)),
      );
    case 'delete': {
      const alone = !others.some(other => equal(other.onset, note.onset));
      return done(alone ? glue(others, note.onset, endOf(note)) : others);
    }
    case 'rest':
      return done(others);
    case 'roll':
      return done(withRoll(reading, new Set([edit.note, ...edit.more])));
    case 'unroll':
      return done(withoutRoll(reading, note));
    case 'gliss':
      return done(withGliss(reading, new Set([edit.note, ...edit.more]), edit.into));
    case 'ungliss':
      return done(withoutGliss(reading, note));
    case 'grace': {
      const small = others
        .filter(n => edit.from.includes(n.strike) && less(n.onset, note.onset))
        .sort(byPlace);
      const [first] = small;
      if (first === undefined) return reading;
      const left = glue(
        others.filter(n => !small.includes(n)),
        first.onset,
        note.onset,
      );
      return done([...left, graced(note, small)]);
    }
    case 'ungrace':
      return done(withGracesWritten(reading, note));
  }
};

const shifted = (grace: GraceStroke, by: number): GraceStroke => ({
  ...grace,
  pitch: Math.max(0, Math.min(127, grace.pitch + by)),
});

/** A note on another bar, under the name the key has for it; its grace notes move with it. */
const atPitch = ({ name: _, ...note }: ReadNote, pitch: MidiPitch): ReadNote => ({
  ...note,
  pitch,
  ...(note.grace === undefined ? {} : { grace: shifted(note.grace, pitch - note.pitch) }),
  ...(note.ruff === undefined ? {} : { ruff: note.ruff.map(g => shifted(g, pitch - note.pitch)) }),
});

/** A note the teacher has placed is no longer in doubt. */
const sure = (note: ReadNote): ReadNote => {
  const { elsewhere: _, ...rest } = note;
  return { ...rest, doubt: 0 };
};

const withNotes = (reading: Reading, notes: readonly ReadNote[]): Reading => {
  const first = notes.reduce((so, note) => smaller(so, note.onset), ZERO);
  return { ...reading, notes, upbeat: larger(reading.upbeat, negate(first)) };
};

/**
 * All corrections, first one first. An edit whose note is gone changes nothing.
 * @example
 * const reading = { metre: metre(4, 4), tempo: 120, upbeat: ZERO, grid: 'automatic', notes: [{ onset: ZERO, duration: fraction(1, 4), pitch: 60, strike: 0, doubt: 0.2 }], dropped: [], misfit: 0, confidence: 1, reason: '', beats: [1, 1.5, 2], firstBeat: 0 };
 * correct(reading, [{ kind: 'delete', note: 0 }]).notes // => []
 */
export const correct = (reading: Reading, edits: readonly Edit[]): Reading =>
  edits.reduce(applyEdit, reading);
