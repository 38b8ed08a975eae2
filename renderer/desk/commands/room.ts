import { ok } from '../../../core/foundation/result.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { motifOf, type Piece, planOf, withPlan } from '../../../core/piece/piece.ts';
import { mendPlan, mendRoom, type Remedy } from '../../../core/playable/remedies.ts';
import type { MusicRoom } from '../../../core/playable/musicRoom.ts';
import type { Rooms } from '../../storage/rooms.ts';
import type { Command } from '../command.ts';
import { FIRST_ROOM } from '../session.ts';
import { type DeskState, withSession } from '../state.ts';
import { changePlan, leaveTrial } from './trial.ts';
import { putRoom } from './rooms.ts';
import { stepped } from './step.ts';

/** The room one stands in: that of what lies on the desk, or this machine's. */
export const currentRoom = (desk: DeskState): MusicRoom =>
  desk.document.history?.present.room ??
  desk.session.rooms.all.find(room => room.id === desk.session.rooms.current) ??
  FIRST_ROOM;

/** The machine's rooms, the one stood in as it now is. */
export const roomsOf = (desk: DeskState): Rooms => putRoom(desk.session.rooms, currentRoom(desk));

/**
 * Changes the room in one step that can be undone, and the piece with it where asked; without a piece
 * there is no history, and it is just changed.
 */
export const changeRoom: Command<
  [name: string, change: (room: MusicRoom) => MusicRoom, alongside?: (piece: Piece) => Piece]
> = (desk, name, change, alongside = piece => piece) => {
  const from = currentRoom(desk);
  const to = change(from);
  if (to === from) return ok(desk);
  const lying = desk.document.history?.present;
  const rooms = putRoom(desk.session.rooms, to);
  if (lying === undefined) return ok(withSession(desk, { rooms }));
  return ok(withSession(stepped(desk, name, { piece: alongside(lying.piece), room: to }), { rooms }));
};

/** Stands in one of these rooms, also under what lies on the desk. */
const standIn = (desk: DeskState, room: MusicRoom, rooms: Rooms): DeskState => {
  const { history } = desk.document;
  const there = withSession(desk, { rooms: { ...rooms, current: room.id } });
  if (history === undefined) return there;
  return {
    ...there,
    document: { ...desk.document, history: { ...history, present: { ...history.present, room } } },
  };
};

/** Stands in another of the machine's rooms. */
export const enterRoom: Command<[id: string]> = (desk, id) => {
  const rooms = roomsOf(desk);
  const room = rooms.all.find(r => r.id === id);
  return ok(room === undefined ? desk : standIn(desk, room, rooms));
};

/** One more room, like the one here. */
export const addRoom: Command = desk => {
  const rooms = roomsOf(desk);
  const number = Math.max(...rooms.all.map(r => Number(/\d+$/.exec(r.id)?.[0] ?? 0))) + 1;
  const room: MusicRoom = {
    ...currentRoom(desk),
    id: `room-${String(number)}`,
    name: `Room ${String(number)}`,
  };
  return ok(standIn(desk, room, { ...rooms, all: [...rooms.all, room] }));
};

/** Does one remedy, as one step that can be undone. */
export const mend: Command<[name: string, remedy: Remedy]> = (desk, name, remedy) => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined) return ok(desk);
  const mended = (plan: Plan): Plan => mendPlan(motifOf(piece), plan, remedy);
  const room = currentRoom(desk);
  if (mendRoom(room, remedy) === room) return changePlan(desk, name, mended);
  const left = leaveTrial(desk);
  if (!left.ok) return left;
  return changeRoom(
    left.value,
    name,
    old => mendRoom(old, remedy),
    old => withPlan(old, mended(planOf(old))),
  );
};
