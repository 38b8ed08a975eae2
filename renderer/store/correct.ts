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
import { corrected, type Piece } from '../../core/piece/piece.ts';
import type { Reading, ReadNote } from '../../core/reading/reading.ts';
import { piece, reading, selectedNotes } from './app.ts';
import { edit } from './change.ts';

/** One thing a teacher can do to the chosen note. */
export interface Correction {
  readonly id: string;
  readonly text: string;
  /** As listed under ?. */
  readonly keys: string;
  readonly needsNote: boolean;
  readonly run: () => void;
}

/** The step a note is moved by: the grid that was chosen, or a semiquaver; a third of a beat in triplets. */
const gridStep = (now: Piece, note: ReadNote): Fraction => {
  if (note.onset.d % 3 === 0) return fraction(1, 12);
  const steps: Readonly<Record<string, Fraction>> = {
    beat: fraction(1, 4),
    half: fraction(1, 8),
    eighth: fraction(1, 32),
    triplet: fraction(1, 12),
  };
  return steps[now.hints.grid ?? 'automatic'] ?? fraction(1, 16);
};

const nameOf = (now: Piece, note: ReadNote): string => pitchName(spell(now.key, note.pitch));

const withChosen = (act: (now: Piece, current: Reading, note: ReadNote) => void): void => {
  const now = piece.value;
  const current = reading.value;
  if (now === undefined || current === undefined) return;
  for (const strike of selectedNotes.value) {
    const note = current.notes.find(n => n.strike === strike);
    const fresh = piece.value;
    if (note !== undefined && fresh !== undefined) act(fresh, corrected(fresh), note);
  }
};

const move = (direction: 1 | -1): void => {
  withChosen((now, current, note) => {
    const by = gridStep(now, note);
    const onset = add(note.onset, direction > 0 ? by : negate(by));
    const earliest = negate(barLength(current.metre));
    if (less(onset, earliest)) return;
    edit(`move ${nameOf(now, note)} ${direction > 0 ? 'later' : 'earlier'}`, {
      kind: 'move',
      note: note.strike,
      onset,
    });
  });
};

const lengthen = (direction: 1 | -1): void => {
  withChosen((now, _current, note) => {
    const by = gridStep(now, note);
    const duration = add(note.duration, direction > 0 ? by : negate(by));
    if (duration.n <= 0) return;
    edit(`make ${nameOf(now, note)} ${direction > 0 ? 'longer' : 'shorter'}`, {
      kind: 'length',
      note: note.strike,
      duration,
    });
  });
};

const raise = (direction: 1 | -1): void => {
  withChosen((now, _current, note) => {
    const at = toScale(now.key, note.pitch);
    const pitch = scaleMidi(now.key, { degree: at.degree + direction, alter: 0 });
    if (pitch < 0 || pitch > 127) return;
    edit(`${nameOf(now, note)} to ${pitchName(spell(now.key, pitch))}`, {
      kind: 'pitch',
      note: note.strike,
      pitch,
    });
  });
};

const remove = (kind: 'delete' | 'rest'): void => {
  withChosen((now, _current, note) => {
    edit(kind === 'delete' ? `delete ${nameOf(now, note)}` : `rest for ${nameOf(now, note)}`, {
      kind,
      note: note.strike,
    });
  });
  selectedNotes.value = [];
};

/** Adds a note after the chosen one, in its second half; at the end of the line after the last. */
const addNote = (): void => {
  const now = piece.value;
  const current = reading.value;
  if (now === undefined || current === undefined) return;
  const chosen = current.notes.find(n => n.strike === selectedNotes.value[0]) ?? current.notes.at(-1);
  const id = Math.min(-1, ...now.edits.filter(e => e.kind === 'add').map(e => e.note - 1));
  const by = chosen === undefined ? fraction(1, 8) : gridStep(now, chosen);
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

/** Moves the selection along the line. */
export const selectNeighbour = (direction: 1 | -1): void => {
  const current = reading.value;
  if (current === undefined || current.notes.length === 0) return;
  const index = current.notes.findIndex(n => n.strike === selectedNotes.value[0]);
  const next = index < 0 ? (direction > 0 ? 0 : current.notes.length - 1) : index + direction;
  const note = current.notes[Math.min(current.notes.length - 1, Math.max(0, next))];
  if (note !== undefined) selectedNotes.value = [note.strike];
};

/** Puts a doubtful note at the reader's other place for it. */
export const takeOtherPlace = (note: ReadNote, onset: Fraction): void => {
  const now = piece.value;
  if (now === undefined) return;
  edit(`move ${nameOf(now, note)}`, { kind: 'move', note: note.strike, onset });
};

export const CORRECTIONS: readonly Correction[] = [
  {
    id: 'earlier',
    text: 'Earlier',
    keys: 'Alt+Left',
    needsNote: true,
    run: () => {
      move(-1);
    },
  },
  {
    id: 'later',
    text: 'Later',
    keys: 'Alt+Right',
    needsNote: true,
    run: () => {
      move(1);
    },
  },
  {
    id: 'shorter',
    text: 'Shorter',
    keys: ',',
    needsNote: true,
    run: () => {
      lengthen(-1);
    },
  },
  {
    id: 'longer',
    text: 'Longer',
    keys: '.',
    needsNote: true,
    run: () => {
      lengthen(1);
    },
  },
  {
    id: 'higher',
    text: 'Higher',
    keys: 'Alt+Up',
    needsNote: true,
    run: () => {
      raise(1);
    },
  },
  {
    id: 'lower',
    text: 'Lower',
    keys: 'Alt+Down',
    needsNote: true,
    run: () => {
      raise(-1);
    },
  },
  {
    id: 'rest',
    text: 'Rest instead',
    keys: 'Backspace',
    needsNote: true,
    run: () => {
      remove('rest');
    },
  },
  {
    id: 'delete',
    text: 'Delete',
    keys: 'Delete',
    needsNote: true,
    run: () => {
      remove('delete');
    },
  },
  { id: 'add', text: 'Add a note', keys: 'Insert', needsNote: false, run: addNote },
];
