import { failed, ok } from '../../../core/foundation/result.ts';
import { editsHeardAgain, mendedStrikes, type TakeHeardAgain } from '../../../core/piece/heardAgain.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { isRhythmOnly } from '../../../core/piece/rhythmOnly.ts';
import type { Take } from '../../../core/take/take.ts';
import type { Command } from '../command.ts';
import type { LiveState } from '../live.ts';
import { type DeskState, withLive } from '../state.ts';
import { step } from './step.ts';

/** Sound can be heard again as long as this window is open; of one take at a time. */
export const keepSoundOf: Command<[soundOf: LiveState['soundOf']]> = (desk, soundOf) =>
  ok(withLive(desk, { soundOf }));

/** The sound of the idea on the desk, where it is at hand. */
export const soundAtHand = ({ document, live }: DeskState): LiveState['soundOf'] => {
  const take = document.history?.present.piece.take;
  return take?.id === live.soundOf?.take ? live.soundOf : undefined;
};

const isFromSound = ({ source, from }: Take): boolean =>
  source === 'microphone' || (source === 'file' && !/\.midi?$/i.test(from));

/** Whether the idea on the desk was heard, and something was corrected that it can be heard again by. */
export const canHearAgain = ({ document }: DeskState): boolean => {
  const piece = document.history?.present.piece;
  return (
    piece !== undefined &&
    isFromSound(piece.take) &&
    mendedStrikes(piece).length > 0 &&
    !isRhythmOnly(piece.reading)
  );
};

/** Whether the sound of the idea on the desk is here alone, and gone with it unless it is kept. */
export const canKeepSound = (desk: DeskState): boolean => soundAtHand(desk)?.isOnlyHere === true;

const notes = (count: number): string => (count === 1 ? 'one note' : `${String(count)} notes`);

/**
 * The idea was heard once more: what is heard otherwise now is written so, in one step.
 * @param of the piece whose corrections the ear was told
 */
export const heardAgain: Command<[of: Piece, again: TakeHeardAgain]> = (desk, of, again) => {
  const piece = desk.document.history?.present.piece;
  // Another idea lies there since.
  if (piece === undefined || piece.take.id !== of.take.id) return ok(desk);
  // What was taken back since would come back with the answer.
  if (JSON.stringify(mendedStrikes(piece)) !== JSON.stringify(mendedStrikes(of))) {
    return failed({
      kind: 'conflict',
      what: 'Something was put right while the sound was listened to.',
      kept: 'The page stays as it is.',
      next: 'Press Listen again once more.',
    });
  }
  const edits = editsHeardAgain(piece, again);
  if (edits === piece.edits)
    return ok(withLive(desk, { problem: undefined, notice: 'Heard again: nothing else is on another bar.' }));
  const done = step(desk, 'listen again', old => ({ ...old, edits: editsHeardAgain(old, again) }));
  if (!done.ok) return done;
  const made = edits.filter(edit => !piece.edits.includes(edit));
  const out = made.filter(edit => edit.kind === 'delete').length;
  const moved = made.length - out;
  const back = piece.edits.filter(
    edit => !edits.includes(edit) && !made.some(now => now.note === edit.note),
  ).length;
  const words = [
    ...(moved === 0 ? [] : [`${notes(moved)} on another bar`]),
    ...(out === 0 ? [] : [`${notes(out)} taken out`]),
    ...(back === 0 ? [] : [`${notes(back)} as before`]),
  ];
  return ok(withLive(done.value, { notice: `Heard again: ${words.join(', ')}.` }));
};
