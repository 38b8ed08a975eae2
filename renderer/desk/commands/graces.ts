import { failed } from '../../../core/foundation/result.ts';
import { gracesBefore, notesOfGraces } from '../../../core/piece/graceEdits.ts';
import { corrected } from '../../../core/piece/piece.ts';
import type { Command } from '../command.ts';
import { nameOf } from './corrections.ts';
import { edit } from './step.ts';

/**
 * Writes the grace notes of a note out before it, or the quick notes before it as its grace notes; nothing where there
 * are neither. Problems: 'bad-request' where there is no room before it.
 */
export const toggleGraces: Command<[strike: number]> = (desk, strike) => {
  const now = desk.document.history?.present.piece;
  const page = now === undefined ? undefined : corrected(now);
  const note = page?.notes.find(n => n.strike === strike);
  if (now === undefined || page === undefined || note === undefined) return { ok: true, value: desk };
  const name = nameOf(now, note);
  if (note.grace !== undefined)
    return notesOfGraces(page, note) === undefined
      ? NO_ROOM
      : edit(desk, `write out the grace notes of ${name}`, { kind: 'ungrace', note: strike });
  const from = gracesBefore(page, now.take, note);
  return from.length === 0
    ? { ok: true, value: desk }
    : edit(desk, `grace notes to ${name}`, { kind: 'grace', note: strike, from });
};

const NO_ROOM = failed({
  kind: 'bad-request',
  what: 'There is no room before this note to write its grace notes out.',
  kept: 'They stay as they are written.',
  next: 'Move the note before it earlier, or delete it.',
});
