import {
  add,
  compare,
  type Fraction,
  fraction,
  less,
  negate,
  subtract,
  ZERO,
} from '../../../core/foundation/fraction.ts';
import { nextName } from '../../../core/foundation/enharmonic.ts';
import { scaleMidi, spell, toScale } from '../../../core/foundation/key.ts';
import { pitchName } from '../../../core/foundation/pitch.ts';
import { failed, ok, type Result } from '../../../core/foundation/result.ts';
import { gridUnit } from '../../../core/piece/gridPositions.ts';
import { corrected, type Piece } from '../../../core/piece/piece.ts';
import { spelledNote } from '../../../core/piece/spelledNote.ts';
import type { Reading, ReadNote } from '../../../core/reading/model/reading.ts';
import type { Command } from '../command.ts';
import type { DeskState } from '../state.ts';
import { selectNotes } from './settings.ts';
import { edit } from './step.ts';

const FULL_RANGE = { low: 0, high: 127 };

/** A note of the page by name: "E5". */
export const nameOf = (now: Piece, note: ReadNote): string =>
  pitchName(spelledNote(corrected(now), now.key, note));

/** Does the same to each chosen note, each on the page as the one before left it. */
const toEach = (
  desk: DeskState,
  act: (desk: DeskState, now: Piece, page: Reading, note: ReadNote) => Result<DeskState>,
): Result<DeskState> => {
  let done: Result<DeskState> = ok(desk);
  for (const strike of desk.session.selectedNotes) {
    const now = done.ok ? done.value.document.history?.present.piece : undefined;
    if (!done.ok || now === undefined) return done;
    const page = corrected(now);
    const note = page.notes.find(n => n.strike === strike);
    if (note !== undefined) done = act(done.value, now, page, note);
  }
  return done;
};

/** Gives a note a length. @param duration semibreves, above 0; else nothing is done */
export const makeLength: Command<[note: ReadNote, duration: Fraction]> = (desk, note, duration) => {
  const now = desk.document.history?.present.piece;
  if (now === undefined || duration.n <= 0) return ok(desk);
  const direction = less(note.duration, duration) ? 'longer' : 'shorter';
  return edit(desk, `make ${nameOf(now, note)} ${direction}`, {
    kind: 'length',
    note: note.strike,
    duration,
  });
};

/** Gives a note a pitch. @param pitch MIDI, 0 to 127; else nothing is done */
export const makePitch: Command<[note: ReadNote, pitch: number]> = (desk, note, pitch) => {
  const now = desk.document.history?.present.piece;
  if (now === undefined || pitch < FULL_RANGE.low || pitch > FULL_RANGE.high || pitch === note.pitch)
    return ok(desk);
  return edit(desk, `${nameOf(now, note)} to ${pitchName(spell(now.key, pitch))}`, {
    kind: 'pitch',
    note: note.strike,
    pitch,
  });
};

/**
 * Writes the chosen notes under the next of their names: D♯ for E♭ and back. Problems: 'bad-request' where
 * none of them has another.
 */
export const respell: Command = desk => {
  const before = desk.document.history?.present.piece;
  const done = toEach(desk, (now, piece, page, note) => {
    const was = spelledNote(page, piece.key, note);
    const next = nextName(piece.key, was);
    if (pitchName(next) === pitchName(was)) return ok(now);
    const { letter, alter } = next;
    return edit(now, `${pitchName(was)} as ${pitchName(next)}`, {
      kind: 'respell',
      note: note.strike,
      name: { letter, alter },
    });
  });
  const changed = !done.ok || done.value.document.history?.present.piece !== before;
  if (changed || desk.session.selectedNotes.length === 0) return done;
  return failed({
    kind: 'bad-request',
    what: 'This note has no other name in this key.',
    kept: 'Nothing was changed.',
    next: 'Choose another key, or leave the name as it is.',
  });
};

/** Writes the chosen notes with this letter, each in the octave nearest to where it is. */
export const makeLetter: Command<[letter: string]> = (desk, letter) =>
  toEach(desk, (now, piece, _page, note) => {
    const near = Array.from({ length: 13 }, (_, i) => note.pitch - 6 + i);
    const inKey = near.filter(
      p => spell(piece.key, p).letter === letter && toScale(piece.key, p).alter === 0,
    );
    const any = near.filter(p => spell(piece.key, p).letter === letter && spell(piece.key, p).alter === 0);
    const [nearest] = (inKey.length > 0 ? inKey : any).sort(
      (a, b) => Math.abs(a - note.pitch) - Math.abs(b - note.pitch),
    );
    return nearest === undefined ? ok(now) : makePitch(now, note, nearest);
  });

/** Makes the chosen notes a grid unit longer or shorter. */
export const lengthen: Command<[direction: 1 | -1]> = (desk, direction) =>
  toEach(desk, (now, piece, page, note) => {
    const by = gridUnit(piece.hints, page, note);
    return makeLength(now, note, add(note.duration, direction > 0 ? by : negate(by)));
  });

/** Moves the chosen notes a degree of the scale. */
export const raise: Command<[direction: 1 | -1]> = (desk, direction) =>
  toEach(desk, (now, piece, _page, note) => {
    const at = toScale(piece.key, note.pitch);
    return makePitch(now, note, scaleMidi(piece.key, { degree: at.degree + direction, alter: 0 }));
  });

/** Deletes the chosen notes: what was before runs on, or a rest stands there. */
export const remove: Command<[kind: 'delete' | 'rest']> = (desk, kind) => {
  const done = toEach(desk, (now, piece, _page, note) =>
    edit(now, kind === 'delete' ? `delete ${nameOf(piece, note)}` : `rest for ${nameOf(piece, note)}`, {
      kind,
      note: note.strike,
    }),
  );
  return done.ok ? selectNotes(done.value, []) : done;
};

/** Takes out a note that was somebody else's: what was before runs on. */
export const takeOut: Command<[note: ReadNote]> = (desk, note) => {
  const now = desk.document.history?.present.piece;
  if (now === undefined) return ok(desk);
  return edit(desk, `take out ${nameOf(now, note)}`, { kind: 'delete', note: note.strike });
};

/** Half of a length, rounded to the grid; at least one grid unit. */
const half = (length: Fraction, by: Fraction): Fraction => {
  const units = Math.max(1, Math.round((length.n * by.d) / (length.d * by.n * 2)));
  return fraction(by.n * units, by.d);
};

/** Adds a note after the chosen one, in its second half; at the end of the line after the last. */
export const addNote: Command = desk => {
  const now = desk.document.history?.present.piece;
  if (now === undefined) return ok(desk);
  const page = corrected(now);
  const [selected] = desk.session.selectedNotes;
  const chosen = page.notes.find(n => n.strike === selected) ?? page.notes.at(-1);
  const id = Math.min(-1, ...now.edits.filter(e => e.kind === 'add').map(e => e.note - 1));
  const by = chosen === undefined ? fraction(1, 8) : gridUnit(now.hints, page, chosen);
  const next = page.notes.find(n => chosen !== undefined && compare(n.onset, chosen.onset) > 0);
  const end = chosen === undefined ? ZERO : add(chosen.onset, chosen.duration);
  const free = next === undefined ? undefined : subtract(next.onset, end);
  const freeAfter = free === undefined || free.n > 0;
  const onset = chosen === undefined ? ZERO : freeAfter ? end : add(chosen.onset, half(chosen.duration, by));
  const duration = chosen === undefined || freeAfter ? by : subtract(end, onset);
  if (duration.n <= 0) return ok(desk);
  const added = edit(desk, 'add a note', {
    kind: 'add',
    note: id,
    onset,
    duration,
    pitch: chosen?.pitch ?? 72,
  });
  return added.ok ? selectNotes(added.value, [id]) : added;
};

/** Moves the selection along the line; `more` keeps what is chosen and adds to it. */
export const selectNeighbour: Command<[direction: 1 | -1, more?: boolean]> = (
  desk,
  direction,
  more = false,
) => {
  const now = desk.document.history?.present.piece;
  const notes = now === undefined ? [] : corrected(now).notes;
  const selected = desk.session.selectedNotes;
  const from = direction > 0 ? selected.at(-1) : selected[0];
  const index = notes.findIndex(n => n.strike === from);
  const next = index < 0 ? (direction > 0 ? 0 : notes.length - 1) : index + direction;
  const note = notes[Math.min(notes.length - 1, Math.max(0, next))];
  if (note === undefined) return ok(desk);
  const kept = more ? selected.filter(strike => strike !== note.strike) : [];
  return selectNotes(desk, direction > 0 ? [...kept, note.strike] : [note.strike, ...kept]);
};
