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

/** Strikes whose bar was put right by hand, or that were taken out: what the page says of what was heard. */
export const mendedStrikes = (piece: Piece): readonly MendedStrike[] => {
  const said = new Map<number, MidiPitch | undefined>();
  for (const edit of piece.edits) {
    if (edit.kind === 'pitch') said.set(edit.note, edit.pitch);
    else if (edit.kind === 'delete' || edit.kind === 'rest') said.set(edit.note, undefined);
  }
  return [...said].flatMap(([note, pitch]) => {
    const strike = piece.take.strikes[note];
    if (strike === undefined || strike.pitch === pitch) return [];
    return [pitch === undefined ? { strike } : { strike, pitch }];
  });
};

/** Seconds: the same sound heard again gives the same moments. */
const SAME = 0.02;

/**
 * What hearing a take once more changes on its page: notes on another bar, and notes that were no strikes of it. What
 * was corrected by hand stays, and so does everything about rhythm.
 * @param strikes as heard again, pitches as written, on the take's clock
 */
export const editsOfHearing = (piece: Piece, strikes: readonly Strike[]): readonly Edit[] => {
  const byHand = new Set(piece.edits.map(edit => edit.note));
  const left = [...strikes];
  /** The strike of a note, which no other note has after that. */
  const claim = (note: ReadNote, pitch?: MidiPitch): Strike | undefined => {
    const at = piece.take.strikes[note.strike]?.at ?? NaN;
    const place = left.findIndex(
      one => Math.abs(one.at - at) < SAME && (pitch === undefined || one.pitch === pitch),
    );
    return place < 0 ? undefined : left.splice(place, 1)[0];
  };
  // Two bars in one moment: first those that are as they were.
  const others = corrected(piece).notes.filter(
    note => piece.take.strikes[note.strike] !== undefined && claim(note, note.pitch) === undefined,
  );
  return others.flatMap((note): readonly Edit[] => {
    if (byHand.has(note.strike)) return [];
    const heard = claim(note);
    return heard === undefined
      ? [{ kind: 'delete', note: note.strike }]
      : [{ kind: 'pitch', note: note.strike, pitch: heard.pitch }];
  });
};
