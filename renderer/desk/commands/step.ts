import { failed, ok } from '../../../core/foundation/result.ts';
import { swingProblem } from '../../../core/growing/changeMetre.ts';
import type { Edit } from '../../../core/piece/edit.ts';
import { type History, record, redo, undo } from '../../../core/piece/history.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import { pupilOf } from '../../../core/piece/pupil.ts';
import { ripples, withRipples } from '../../../core/piece/ripple.ts';
import type { Command } from '../command.ts';
import type { Lying } from '../document.ts';
import { NOTHING_TRIED } from '../live.ts';
import { type DeskState, withLive } from '../state.ts';
import { putRoom } from './rooms.ts';
import { turnOf } from './turns.ts';

const sentence = (name: string): string => name.charAt(0).toUpperCase() + name.slice(1) + '.';

/** The desk after one undoable step to another piece and room, with what followed from it. */
export const stepped = (desk: DeskState, name: string, next: Lying): DeskState => {
  const { history } = desk.document;
  if (history === undefined) return desk;
  const { piece: before } = history.present;
  const piece = withRipples(before, next.piece);
  const followers = ripples(before, next.piece);
  const gaveWay = piece !== next.piece;
  const rippled =
    followers.length > 0
      ? [...new Set([...desk.live.rippled, ...followers])]
      : before.plan !== next.piece.plan
        ? []
        : desk.live.rippled;
  return withLive(
    { ...desk, document: { ...desk.document, history: record(history, name, { ...next, piece }) } },
    {
      rippled,
      problem: undefined,
      followed: [],
      notice:
        sentence(name) + (gaveWay ? ' What stood in the way in Grow now waits until its part is free.' : ''),
    },
  );
};

/** One undoable step on the piece; a change that changes nothing is no step, and one to a swing that its later metres cannot have is refused. */
export const step: Command<[name: string, change: (piece: Piece) => Piece]> = (desk, name, change) => {
  const lying = desk.document.history?.present;
  if (lying === undefined) return ok(desk);
  const piece = change(lying.piece);
  if (piece === lying.piece) return ok(desk);
  // Where it swings so already, it must stay open to every other correction.
  const before = swingProblem(lying.piece.reading, lying.piece.plan ?? {});
  const problem = before === undefined ? swingProblem(piece.reading, piece.plan ?? {}) : undefined;
  return problem === undefined ? ok(stepped(desk, name, { ...lying, piece })) : failed(problem);
};

/**
 * The last step going on, as words do while they are typed: one undo takes all of it back. Another step where the last
 * one was something else.
 */
export const goOnWith: Command<[name: string, change: (piece: Piece) => Piece]> = (desk, name, change) => {
  const { history } = desk.document;
  if (history?.past.at(-1)?.name !== name || history.future.length > 0) return step(desk, name, change);
  const piece = change(history.present.piece);
  if (piece === history.present.piece) return ok(desk);
  const present = { ...history.present, piece };
  return ok({ ...desk, document: { ...desk.document, history: { ...history, present } } });
};

/** A correction by hand over the reading. */
export const edit: Command<[name: string, made: Edit]> = (desk, name, made) =>
  step(desk, name, old => ({ ...old, edits: [...old.edits, made] }));

const travel =
  (by: (history: History<Lying>) => History<Lying>): Command =>
  desk => {
    const { history } = desk.document;
    const next = history === undefined ? undefined : by(history);
    if (history === undefined || next === undefined || next === history) return ok(desk);
    const { room } = next.present;
    // Whoever went into another room since stays there; the room left behind goes back as it was.
    const here = room.id === history.present.room.id ? room : history.present.room;
    const there = { ...next, present: { ...next.present, room: here } };
    const rooms = putRoom(desk.session.rooms, room);
    return ok(
      withLive(
        {
          ...desk,
          document: { ...desk.document, history: there },
          // Whose piece lies here plays.
          session: { ...turnOf(desk, pupilOf(next.present.piece)).session, rooms },
        },
        { ...NOTHING_TRIED, followed: [], rippled: [], lastPinned: undefined },
      ),
    );
  };

/** Takes back the last step, the room with it. */
export const undoStep: Command = travel(undo);
/** Does the step again that was taken back. */
export const redoStep: Command = travel(redo);
