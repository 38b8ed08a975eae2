import {
  add,
  compare,
  type Fraction,
  fraction,
  less,
  negate,
  subtract,
  ZERO,
} from '../../core/foundation/fraction.ts';
import { scaleMidi, spell, toScale } from '../../core/foundation/key.ts';
import { barLength } from '../../core/foundation/metre.ts';
import { pitchName } from '../../core/foundation/pitch.ts';
import {
  beatIsInThree,
  gridUnit,
  nearestGridPosition,
  redivide,
  nextGridPosition,
} from '../../core/piece/gridPositions.ts';
import { barAndBeat } from '../../core/plan/plan.ts';
import { corrected, type Piece } from '../../core/piece/piece.ts';
import { withRepeats } from '../../core/piece/rereading.ts';
import { strikePositions } from '../../core/piece/strikePositions.ts';
import type { Reading, ReadNote } from '../../core/reading/model/reading.ts';
import { piece, reading, selectedNotes } from './app.ts';
import { edit, hint } from './change.ts';
import { onlyMove, pin, type Pinning, unpin } from './pinning.ts';
import { afterReader } from './readings.ts';

const nameOf = (now: Piece, note: ReadNote): string => pitchName(spell(now.key, note.pitch));

/** The notes chosen, as they stand on the page. */
export const chosenNotes = (): readonly ReadNote[] =>
  (reading.value?.notes ?? []).filter(n => selectedNotes.value.includes(n.strike));

const withChosen = (act: (now: Piece, current: Reading, note: ReadNote) => void): void => {
  for (const note of chosenNotes()) {
    const fresh = piece.value;
    if (fresh !== undefined) act(fresh, corrected(fresh), note);
  }
};

/** Names several notes at once: "E5", "2 notes". */
const nameAll = (now: Piece, notes: readonly ReadNote[]): string => {
  const [first] = notes;
  return notes.length === 1 && first !== undefined ? nameOf(now, first) : `${String(notes.length)} notes`;
};

/** Where the given strikes go when moved a step of the grid; undefined where one would leave the page. */
const stepped = (
  now: Piece,
  page: Reading,
  strikes: readonly number[],
  direction: 1 | -1,
): Pinning | undefined => {
  const notes = page.notes.filter(n => strikes.includes(n.strike));
  const pins = notes.map(note => ({
    strike: note.strike,
    onset: nextGridPosition(note.onset, gridUnit(now.hints, page, note), direction),
  }));
  const earliest = negate(barLength(page.metre));
  if (pins.length === 0 || pins.some(p => less(p.onset, earliest))) return undefined;
  return { name: `move ${nameAll(now, notes)} ${direction > 0 ? 'later' : 'earlier'}`, pins };
};

/** Moves the chosen notes a step of the grid; the reader follows unless it is only here. */
export const move = (direction: 1 | -1, onlyHere = false): void => {
  const strikes = selectedNotes.value;
  if (!onlyHere) {
    void pin((now, page) => stepped(now, page, strikes, direction));
    return;
  }
  afterReader(() => {
    const now = piece.value;
    const asked = now === undefined ? undefined : stepped(now, corrected(now), strikes, direction);
    if (asked !== undefined) onlyMove(asked.name, asked.pins);
  });
};

/** Puts the chosen note at a place. */
export const placeAt = (note: ReadNote, onset: Fraction): void => {
  void pin(now => ({ name: `move ${nameOf(now, note)}`, pins: [{ strike: note.strike, onset }] }));
};

/** Gives the chosen note a length. */
export const makeLength = (note: ReadNote, duration: Fraction): void => {
  const now = piece.value;
  if (now === undefined || duration.n <= 0) return;
  const direction = less(note.duration, duration) ? 'longer' : 'shorter';
  edit(`make ${nameOf(now, note)} ${direction}`, { kind: 'length', note: note.strike, duration });
};

/** Gives the chosen note a pitch. @param pitch MIDI, 0 to 127 */
export const makePitch = (note: ReadNote, pitch: number): void => {
  const now = piece.value;
  if (now === undefined || pitch < 0 || pitch > 127 || pitch === note.pitch) return;
  edit(`${nameOf(now, note)} to ${pitchName(spell(now.key, pitch))}`, {
    kind: 'pitch',
    note: note.strike,
    pitch,
  });
};

/** Writes the chosen note with this letter, in the octave nearest to where it is. */
export const makeLetter = (letter: string): void => {
  withChosen((now, _current, note) => {
    const near = Array.from({ length: 13 }, (_, i) => note.pitch - 6 + i);
    const inKey = near.filter(p => spell(now.key, p).letter === letter && toScale(now.key, p).alter === 0);
    const any = near.filter(p => spell(now.key, p).letter === letter && spell(now.key, p).alter === 0);
    const [nearest] = (inKey.length > 0 ? inKey : any).sort(
      (a, b) => Math.abs(a - note.pitch) - Math.abs(b - note.pitch),
    );
    if (nearest !== undefined) makePitch(note, nearest);
  });
};

/** Writes the beat of the chosen note as a triplet, or takes the triplet away. */
export const divideBeat = (): void => {
  const strikes = selectedNotes.value;
  void pin((now, page) => {
    const note = page.notes.find(n => strikes.includes(n.strike));
    if (note === undefined) return undefined;
    const three = !beatIsInThree(page, note.onset);
    const pins = redivide(page, note.onset, three ? 3 : 4, strikePositions(now.take, page));
    return { name: three ? 'triplet here' : 'no triplet here', pins };
  });
};

/** The chosen note falls on the first barline. */
export const firstBeat = (): void => {
  const now = piece.value;
  const [note] = chosenNotes();
  if (now === undefined || note === undefined || note.strike < 0) return;
  // Places pinned before were counted from the old barline.
  void hint(`first beat on ${nameOf(now, note)}`, { pins: [], firstBeatStrike: note.strike });
};

/** Gives the chosen notes back to the reader, where they were pinned. */
export const letGo = (): void => {
  const strikes = selectedNotes.value;
  void unpin(now => {
    const notes = corrected(now).notes.filter(n => strikes.includes(n.strike) && isPinned(n.strike));
    if (notes.length === 0) return undefined;
    const all = withRepeats(now.reading, notes);
    return { name: `let ${nameAll(now, notes)} go`, strikes: all.map(p => p.strike) };
  });
};

/** Every note of the chosen note's bar stays where it is written, whatever is read anew. */
export const keepBar = (): void => {
  const strikes = selectedNotes.value;
  void pin((_now, page) => {
    const note = page.notes.find(n => strikes.includes(n.strike));
    if (note === undefined) return undefined;
    const { bar } = barAndBeat(page.metre, note.onset);
    const pins = page.notes
      .filter(n => n.strike >= 0 && barAndBeat(page.metre, n.onset).bar === bar)
      .map(n => ({ strike: n.strike, onset: n.onset }));
    return { name: `keep bar ${String(bar)}`, pins };
  });
};

/** Whether the teacher has put this strike where it is written. */
export const isPinned = (strike: number): boolean =>
  (piece.value?.hints.pins ?? []).some(p => p.strike === strike);

/** Makes the chosen notes a step of the grid longer or shorter. */
export const lengthen = (direction: 1 | -1): void => {
  withChosen((now, current, note) => {
    const by = gridUnit(now.hints, current, note);
    makeLength(note, add(note.duration, direction > 0 ? by : negate(by)));
  });
};

/** Moves the chosen notes a step of the scale. */
export const raise = (direction: 1 | -1): void => {
  withChosen((now, _current, note) => {
    const at = toScale(now.key, note.pitch);
    makePitch(note, scaleMidi(now.key, { degree: at.degree + direction, alter: 0 }));
  });
};

/** Deletes the chosen notes: what was before runs on, or a rest stands there. */
export const remove = (kind: 'delete' | 'rest'): void => {
  withChosen((now, _current, note) => {
    edit(kind === 'delete' ? `delete ${nameOf(now, note)}` : `rest for ${nameOf(now, note)}`, {
      kind,
      note: note.strike,
    });
  });
  selectedNotes.value = [];
};

/** Adds a note after the chosen one, in its second half; at the end of the line after the last. */
export const addNote = (): void => {
  const now = piece.value;
  const current = reading.value;
  if (now === undefined || current === undefined) return;
  const chosen = current.notes.find(n => n.strike === selectedNotes.value[0]) ?? current.notes.at(-1);
  const id = Math.min(-1, ...now.edits.filter(e => e.kind === 'add').map(e => e.note - 1));
  const by = chosen === undefined ? fraction(1, 8) : gridUnit(now.hints, current, chosen);
  const next = current.notes.find(n => chosen !== undefined && compare(n.onset, chosen.onset) > 0);
  const end = chosen === undefined ? ZERO : add(chosen.onset, chosen.duration);
  const room = next === undefined ? undefined : subtract(next.onset, end);
  const freeAfter = room === undefined || room.n > 0;
  const onset = chosen === undefined ? ZERO : freeAfter ? end : add(chosen.onset, half(chosen.duration, by));
  const duration = chosen === undefined || freeAfter ? by : subtract(end, onset);
  if (duration.n <= 0) return;
  edit('add a note', { kind: 'add', note: id, onset, duration, pitch: chosen?.pitch ?? 72 });
  selectedNotes.value = [id];
};

/** Half of a length, rounded to the grid; at least one grid step. */
const half = (length: Fraction, by: Fraction): Fraction => {
  const steps = Math.max(1, Math.round((length.n * by.d) / (length.d * by.n * 2)));
  return fraction(by.n * steps, by.d);
};

/** Moves the selection along the line; `more` keeps what is chosen and adds to it. */
export const selectNeighbour = (direction: 1 | -1, more = false): void => {
  const current = reading.value;
  if (current === undefined || current.notes.length === 0) return;
  const from = direction > 0 ? selectedNotes.value.at(-1) : selectedNotes.value[0];
  const index = current.notes.findIndex(n => n.strike === from);
  const next = index < 0 ? (direction > 0 ? 0 : current.notes.length - 1) : index + direction;
  const note = current.notes[Math.min(current.notes.length - 1, Math.max(0, next))];
  if (note === undefined) return;
  const kept = more ? selectedNotes.value.filter(strike => strike !== note.strike) : [];
  selectedNotes.value = direction > 0 ? [...kept, note.strike] : [note.strike, ...kept];
};

/** Writes a strike the reader had left out, where it fell. */
export const writeDropped = (strike: number): void => {
  void pin((now, page) => {
    const place = strikePositions(now.take, page)[strike];
    const pitch = now.take.strikes[strike]?.pitch;
    if (place === undefined || pitch === undefined) return undefined;
    const onset = nearestGridPosition(place, fraction(1, 16));
    return { name: `write ${pitchName(spell(now.key, pitch))}`, pins: [{ strike, onset }] };
  });
  selectedNotes.value = [strike];
};
