import type { MidiPitch } from '../foundation/units.ts';
import type { ReadNote } from '../reading/model/reading.ts';
import type { Strike } from '../take/take.ts';
import type { Edit } from './edit.ts';
import { corrected, type Piece } from './piece.ts';

/** A strike of the take that was corrected, and the bar it was on; absent where it was none. */
export interface MendedStrike {
  readonly strike: Strike;
  readonly pitch?: MidiPitch;
}

/** Whether the ear made a correction, hearing the take once more, and nobody's hand. */
export const isHeard = (edit: Edit): boolean => 'heard' in edit;

/** Strikes whose bar was put right by hand, or that were taken out: what the page says of what was heard. */
export const mendedStrikes = (piece: Piece): readonly MendedStrike[] => {
  const said = new Map<number, MidiPitch | undefined>();
  for (const edit of piece.edits) {
    if (isHeard(edit)) continue;
    if (edit.kind === 'pitch') said.set(edit.note, edit.pitch);
    else if (edit.kind === 'delete' || edit.kind === 'rest') said.set(edit.note, undefined);
  }
  return [...said].flatMap(([note, pitch]) => {
    const strike = piece.take.strikes[note];
    if (strike === undefined || strike.pitch === pitch) return [];
    return [pitch === undefined ? { strike } : { strike, pitch }];
  });
};

/** A take as it was heard once more: pitches as written, on the take's clock. */
export interface TakeHeardAgain {
  readonly struck: readonly Strike[];
  /** Strikes that were none of it. */
  readonly out: readonly Strike[];
}

/**
 * Seconds: the same sound heard again gives the same moments; heard as it came, and then as a whole, nearly the same.
 */
const SAME = 0.03;

const isOf = (edit: Edit, other: Edit): boolean =>
  edit.kind === other.kind &&
  edit.note === other.note &&
  (edit.kind !== 'pitch' || other.kind !== 'pitch' || edit.pitch === other.pitch);

/**
 * The corrections of a piece, once its take was heard again: notes on another bar, and notes that were no strikes of
 * it. What was corrected by hand stays, and so does everything about rhythm, and a note that is not heard now at all.
 * What was heard another time before is held against what is heard now, and goes where that is not so any more.
 * @returns the very same list where nothing is otherwise
 */
export const editsHeardAgain = (piece: Piece, { struck, out }: TakeHeardAgain): readonly Edit[] => {
  const hands = piece.edits.filter(edit => !isHeard(edit));
  const byHand = new Set(hands.map(edit => edit.note));
  const left = [...struck];
  const isThen = (note: ReadNote, one: Strike): boolean =>
    Math.abs(one.at - (piece.take.strikes[note.strike]?.at ?? NaN)) < SAME;
  /** The strike of a note, which no other note has after that. */
  const claim = (note: ReadNote, pitch?: MidiPitch): Strike | undefined => {
    const place = left.findIndex(one => isThen(note, one) && (pitch === undefined || one.pitch === pitch));
    return place < 0 ? undefined : left.splice(place, 1)[0];
  };
  // Two bars in one moment: first those that are as they were.
  const others = corrected({ ...piece, edits: hands }).notes.filter(
    note => piece.take.strikes[note.strike] !== undefined && claim(note, note.pitch) === undefined,
  );
  const made = others.flatMap((note): readonly Edit[] => {
    if (byHand.has(note.strike)) return [];
    const heard = claim(note);
    if (heard !== undefined) return [{ kind: 'pitch', note: note.strike, pitch: heard.pitch, heard: true }];
    const isOut = out.some(one => isThen(note, one));
    return isOut ? [{ kind: 'delete', note: note.strike, heard: true }] : [];
  });
  const isThere = (edit: Edit): boolean => piece.edits.some(old => isHeard(old) && isOf(old, edit));
  const stay = piece.edits.filter(edit => !isHeard(edit) || made.some(now => isOf(now, edit)));
  const more = made.filter(edit => !isThere(edit));
  return stay.length === piece.edits.length && more.length === 0 ? piece.edits : [...stay, ...more];
};
