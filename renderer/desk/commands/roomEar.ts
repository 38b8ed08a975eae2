import { ok, type Problem } from '../../../core/foundation/result.ts';
import type { SoundState } from '../../../core/hearing/soundWatch.ts';
import type { Command } from '../command.ts';
import type { RoomEar } from '../live.ts';
import { withLive } from '../state.ts';

/** The microphone is asked for. */
export const askForMicrophone: Command<[through: RoomEar['through']]> = (desk, through) =>
  ok(withLive(desk, { roomEar: { through, name: undefined, sound: undefined }, problem: undefined }));

/** The browser has given the microphone; from now on the room is listened to. */
export const listenToRoom: Command<[name: string]> = (desk, name) => {
  const { roomEar } = desk.live;
  return ok(roomEar === undefined ? desk : withLive(desk, { roomEar: { ...roomEar, name } }));
};

/** How what comes in sounds just now. */
export const setRoomSound: Command<[sound: SoundState]> = (desk, sound) => {
  const { roomEar } = desk.live;
  return ok(roomEar === undefined ? desk : withLive(desk, { roomEar: { ...roomEar, sound } }));
};

/** Nothing is listened to any more, and why, where it ended by itself. */
export const closeRoomEar: Command<[problem: Problem | undefined]> = (desk, problem) =>
  ok(
    desk.live.roomEar === undefined
      ? desk
      : withLive(desk, { roomEar: undefined, ...(problem === undefined ? {} : { problem }) }),
  );
