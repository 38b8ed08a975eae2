import { computed, effect, signal, untracked } from '@preact/signals';
import { checkPlayable } from '../../core/playable/check.ts';
import { mendPlan, mendRoom, type Remedy } from '../../core/playable/remedies.ts';
import { newMusicRoom, type MusicRoom } from '../../core/playable/musicRoom.ts';
import type { Plan } from '../../core/plan/plan.ts';
import { motifOf, type Piece, planOf } from '../../core/piece/piece.ts';
import { secondsAtOnset } from '../../core/playback/perform.ts';
import { type Rooms, storedRooms, storeRooms } from '../storage/rooms.ts';
import { growScore, piece, shownPlan } from './app.ts';
import { step } from './change.ts';
import { changePlan, leavePreview } from './develop.ts';

const FIRST = newMusicRoom('room-1', 'Music room');

/** The rooms this machine knows; they belong to the machine, not to a piece. */
export const rooms = signal<Rooms>(storedRooms() ?? { all: [FIRST], current: FIRST.id });
export const room = computed(() => rooms.value.all.find(r => r.id === rooms.value.current) ?? FIRST);

const setRooms = (next: Rooms): void => {
  rooms.value = next;
  storeRooms(next);
};

const putRoom = (changed: MusicRoom): void => {
  setRooms({ ...rooms.value, all: rooms.value.all.map(r => (r.id === changed.id ? changed : r)) });
};

/** A step of the history that changed the room: between which two states of the piece, and how. */
interface RoomStep {
  readonly before: Piece;
  readonly after: Piece;
  readonly from: MusicRoom;
  readonly to: MusicRoom;
}
/** Steps of the open piece only: another piece starts another history. */
let roomSteps: readonly RoomStep[] = [];
let last: Piece | undefined;

// The history holds pieces. A change of the room is an entry of it that leaves the piece as it is; the
// room follows whenever that entry is done, undone or done again.
effect(() => {
  const now = piece.value;
  const was = last;
  last = now;
  if (now?.id !== was?.id) roomSteps = [];
  untracked(() => {
    for (const { before, after, from, to } of roomSteps) {
      if (was === before && now === after) putRoom(to);
      if (was === after && now === before) putRoom(from);
    }
  });
});

/** Changes the room in one step that can be undone; without a piece there is no history, and it is just changed. */
export const changeRoom = (
  name: string,
  change: (room: MusicRoom) => MusicRoom,
  alongside: (piece: Piece) => Piece = piece => ({ ...piece }),
): void => {
  const from = room.value;
  const to = change(from);
  if (to === from) return;
  const before = piece.value;
  if (before === undefined) {
    putRoom(to);
    return;
  }
  const after = alongside(before);
  roomSteps = [...roomSteps, { before, after, from, to }];
  step(name, () => after);
};

/** Stands in another of the machine's rooms. */
export const enterRoom = (id: string): void => {
  if (rooms.value.all.some(r => r.id === id)) setRooms({ ...rooms.value, current: id });
};

/** One more room, like the one here. */
export const addRoom = (): void => {
  const { all } = rooms.value;
  const number = Math.max(...all.map(r => Number(/\d+$/.exec(r.id)?.[0] ?? 0))) + 1;
  const id = `room-${String(number)}`;
  setRooms({ all: [...all, { ...room.value, id, name: `Room ${String(number)}` }], current: id });
};

/** Parts whose sticking is shown under their notes, by id; never saved. */
export const stickingShown = signal<ReadonlySet<string>>(new Set());

/** What it takes to play what is on the page of Grow in this room. */
export const playable = computed(() => {
  const now = piece.value;
  const plan = shownPlan.value;
  const score = growScore.value;
  if (now === undefined || plan === undefined || score === undefined) return undefined;
  return checkPlayable(motifOf(now), plan, room.value, at => secondsAtOnset(score, at));
});

/** Does one remedy, as one step that can be undone. */
export const mend = (name: string, remedy: Remedy): void => {
  const now = piece.value;
  if (now === undefined) return;
  const mended = (plan: Plan): Plan => mendPlan(motifOf(now), plan, remedy);
  if (mendRoom(room.value, remedy) === room.value) {
    changePlan(name, mended);
    return;
  }
  leavePreview();
  changeRoom(
    name,
    old => mendRoom(old, remedy),
    old => ({ ...old, plan: mended(planOf(old)) }),
  );
};
