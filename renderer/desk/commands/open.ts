import { failed, ok } from '../../../core/foundation/result.ts';
import type { RegisterEntry } from '../../../core/library/library.ts';
import { likelyMotif } from '../../../core/piece/motifOfReading.ts';
import { record, startHistory } from '../../../core/piece/history.ts';
import { corrected, newPiece, type Piece } from '../../../core/piece/piece.ts';
import type { Hints } from '../../../core/reading/model/reading.ts';
import type { Take } from '../../../core/take/take.ts';
import type { AskingCommand, Command } from '../command.ts';
import { type DeskState, withLive, withSession } from '../state.ts';
import { currentRoom } from './room.ts';
import { goTo } from './settings.ts';
import { step } from './step.ts';

/** Puts a piece on the desk. One that lay there and may not have been kept comes back by undo. */
const lay = (desk: DeskState, name: string, piece: Piece, kept: Piece | undefined): DeskState => {
  const { history } = desk.document;
  const next = { piece, room: currentRoom(desk) };
  return {
    document: {
      ...desk.document,
      history: history === undefined ? startHistory(next) : record(history, name, next),
      kept,
    },
    session: {
      ...desk.session,
      selectedNotes: [],
      selectedStatement: undefined,
      selectedPlanNote: undefined,
      view: piece.plan === undefined ? 'write' : 'grow',
    },
    live: {
      ...desk.live,
      rippled: [],
      followed: [],
      lastPinned: undefined,
      trial: undefined,
      conflict: undefined,
      problem: undefined,
      notice: '',
    },
  };
};

/** Starts a piece from a take: reads it, takes the best reading, goes to Write. @param id of the new piece */
export const startPiece: AskingCommand<[take: Take, title: string, id: string, notice?: string]> = (
  _desk,
  take,
  title,
  id,
  notice = '',
) => {
  const hints: Hints = {};
  return ok({
    questions: [{ take, hints }],
    then: (desk, [found]) => {
      const best = found?.[0];
      if (best === undefined) {
        return failed({
          kind: 'no-notes',
          what: 'There are no strikes in this take.',
          kept: 'What was played before is still remembered.',
          next: 'Play something, then press Catch that.',
        });
      }
      const { codeName, className } = desk.session.pupil;
      const { instrument } = desk.session.play;
      const made = newPiece({ id, title, codeName, className, instrument, take, hints }, best);
      return ok(withLive(lay(desk, `begin ${title}`, made, undefined), { notice }));
    },
  });
};

/** Opens a piece of the register where it was left. */
export const openEntry: Command<[entry: Pick<RegisterEntry, 'id' | 'revision' | 'piece'>]> = (
  desk,
  entry,
) => {
  const laid = lay(desk, `open ${entry.piece.title}`, entry.piece, entry.piece);
  const revisions = { ...laid.document.revisions, [entry.id]: entry.revision };
  return ok({ ...laid, document: { ...laid.document, revisions } });
};

/** What the piece, and who plays, are called. */
export interface Names {
  readonly title: string;
  readonly codeName: string;
  readonly className: string;
}

/** Names the piece that lies here, and the pupil. */
export const nameIt: Command<[names: Names]> = (desk, { title, codeName, className }) => {
  const now = withSession(desk, { pupil: { codeName, className } });
  return step(now, `name it ${title}`, old =>
    title === old.title && codeName === old.codeName && className === old.className
      ? old
      : { ...old, codeName, className, title },
  );
};

/** Takes the likely motif where none was cut, and goes on to Grow. */
export const goOnWithMotif: Command = desk => {
  const cut = step(desk, 'use this motif', old =>
    old.motifBars === undefined ? { ...old, motifBars: likelyMotif(corrected(old)) } : old,
  );
  return cut.ok ? goTo(cut.value, 'grow') : cut;
};
