import { ok } from '../../../core/foundation/result.ts';
import { isSamePupil, ownedBy, pupilOf, type Pupil } from '../../../core/piece/pupil.ts';
import type { Command } from '../command.ts';
import { type DeskState, withLive, withSession } from '../state.ts';
import { step } from './step.ts';

/**
 * Somebody else plays now: what was struck before was not theirs to catch, unless nobody was chosen then.
 * The open piece stays whose it is.
 */
export const turnOf = (desk: DeskState, pupil: Pupil | undefined): DeskState => {
  const before = desk.session.pupil;
  if (isSamePupil(before, pupil)) return desk;
  const last = desk.live.memory.strikes.at(-1)?.at;
  const turnAfter = before === undefined ? desk.session.turnAfter : last;
  return withSession(desk, { pupil, turnAfter });
};

/** Chooses who plays. What lies on the desk keeps its pupil. */
export const choosePupil: Command<[pupil: Pupil | undefined]> = (desk, pupil) => ok(turnOf(desk, pupil));

/** Gives the open piece to another pupil, in one step that can be undone. */
export const giveTo: Command<[pupil: Pupil | undefined]> = (desk, pupil) => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined || isSamePupil(pupil, pupilOf(piece))) return ok(desk);
  const given = step(desk, `give it to ${pupil?.codeName ?? 'nobody yet'}`, old => ({
    ...old,
    ...ownedBy(pupil),
  }));
  if (!given.ok) return given;
  // Who is given a piece plays on; what was struck for it stays there to be caught.
  return ok(
    withLive(withSession(given.value, { pupil }), {
      notice: `${piece.title} is given to ${pupil?.codeName ?? 'nobody yet'}.`,
    }),
  );
};
