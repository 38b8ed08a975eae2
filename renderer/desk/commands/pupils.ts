import { ok } from '../../../core/foundation/result.ts';
import { isSamePupil, ownedBy, pieceInWords, type Pupil, pupilOf } from '../../../core/piece/pupil.ts';
import type { Command } from '../command.ts';
import { type DeskState, withLive, withSession } from '../state.ts';
import { emptied, isInRegister } from './aside.ts';
import { nextOf } from './classes.ts';
import { step } from './step.ts';
import { turnGiven, turnOf } from './turns.ts';

/** Somebody sits down at an empty desk, in Play; what lay there is safe in the register. */
const seat = (desk: DeskState, pupil: Pupil | undefined): DeskState => {
  const { document } = desk;
  const piece = document.history?.present.piece;
  const left =
    piece === undefined || isInRegister(document) ? '' : `${pieceInWords(piece)} is safe in the register. `;
  const there = withSession(turnOf(emptied(desk), pupil), { view: 'play' });
  return withLive(there, { notice: `${left}${pupil?.codeName ?? 'Nobody yet'} plays.` });
};

/** Chooses who plays. Another pupil begins at an empty desk: what lay there keeps its pupil, in the register. */
export const choosePupil: Command<[pupil: Pupil | undefined]> = (desk, pupil) => {
  const isHere = isSamePupil(desk.session.pupil, pupil);
  return ok(isHere ? withSession(desk, { view: 'play' }) : seat(desk, pupil));
};

/** The next pupil of the class sits down; where there is no class list, nobody is named yet. */
export const nextPupil: Command = desk => ok(seat(desk, nextOf(desk)));

/** Gives the open piece to another pupil, in one step that can be undone. */
export const giveTo: Command<[pupil: Pupil | undefined]> = (desk, pupil) => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined || isSamePupil(pupil, pupilOf(piece))) return ok(desk);
  const name = pupil?.codeName ?? 'nobody yet';
  const given = step(desk, `give it to ${name}`, old => ({ ...old, ...ownedBy(pupil) }));
  if (!given.ok) return given;
  // Who is given a piece plays on; what was struck for it stays there to be caught.
  return ok(withLive(turnGiven(given.value, pupil), { notice: `${piece.title} is given to ${name}.` }));
};
