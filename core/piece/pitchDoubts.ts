import type { MidiPitch } from '../foundation/units.ts';
import type { ReadNote } from '../reading/model/reading.ts';
import { corrected, type Piece } from './piece.ts';

/** A note whose pitch may be another. */
export interface PitchDoubt {
  readonly note: ReadNote;
  readonly nextBest: MidiPitch;
}

/**
 * Notes of the page whose bar may have been another one, with the next-best; a pitch that was mended by hand is in
 * doubt no more.
 */
export const pitchDoubts = (piece: Piece): readonly PitchDoubt[] => {
  const byHand = new Set(piece.edits.flatMap(edit => (edit.kind === 'pitch' ? [edit.note] : [])));
  return corrected(piece).notes.flatMap(note => {
    const strike = piece.take.strikes[note.strike];
    return strike?.nextBest === undefined || strike.pitch !== note.pitch || byHand.has(note.strike)
      ? []
      : [{ note, nextBest: strike.nextBest }];
  });
};

/**
 * Notes that were heard so softly that they may be somebody else's; one that was corrected in any way is the pupil's.
 */
export const strikeDoubts = (piece: Piece): readonly ReadNote[] => {
  const byHand = new Set(piece.edits.map(edit => edit.note));
  return corrected(piece).notes.filter(
    note => piece.take.strikes[note.strike]?.perhapsNone === true && !byHand.has(note.strike),
  );
};
