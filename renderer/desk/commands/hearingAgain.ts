import { ok } from '../../../core/foundation/result.ts';
import { editsOfHearing, mendedStrikes } from '../../../core/piece/heardAgain.ts';
import { isRhythmOnly } from '../../../core/piece/rhythmOnly.ts';
import type { Take } from '../../../core/take/take.ts';
import type { Command } from '../command.ts';
import { type DeskState, withLive } from '../state.ts';
import { step } from './step.ts';

/** The sound of a take can be heard again as long as this window is open; of one take at a time. */
export const keepSoundOf: Command<[take: Take['id'] | undefined]> = (desk, soundOf) =>
  ok(withLive(desk, { soundOf }));

/** Whether the sound of the idea on the desk is at hand, and something was corrected that it can be heard by. */
export const canHearAgain = ({ document, live }: DeskState): boolean => {
  const piece = document.history?.present.piece;
  return (
    piece !== undefined &&
    piece.take.id === live.soundOf &&
    mendedStrikes(piece).length > 0 &&
    !isRhythmOnly(piece.reading)
  );
};

const notes = (count: number): string => (count === 1 ? 'one note' : `${String(count)} notes`);

/** The idea was heard once more: what is heard otherwise now is written so, in one step. */
export const heardAgain: Command<[again: Take]> = (desk, again) => {
  const piece = desk.document.history?.present.piece;
  // Another idea lies there since.
  if (piece === undefined || piece.take.id !== again.id) return ok(desk);
  const edits = editsOfHearing(piece, again.strikes);
  if (edits.length === 0)
    return ok(withLive(desk, { problem: undefined, notice: 'Heard again: nothing else is on another bar.' }));
  const done = step(desk, 'listen again', old => ({ ...old, edits: [...old.edits, ...edits] }));
  if (!done.ok) return done;
  const out = edits.filter(edit => edit.kind === 'delete').length;
  const moved = edits.length - out;
  const words = [
    ...(moved === 0 ? [] : [`${notes(moved)} on another bar`]),
    ...(out === 0 ? [] : [`${notes(out)} taken out`]),
  ];
  return ok(withLive(done.value, { notice: `Heard again: ${words.join(', ')}.` }));
};
