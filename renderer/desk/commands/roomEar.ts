import { ok, type Problem } from '../../../core/foundation/result.ts';
import type { SoundState } from '../../../core/hearing/soundWatch.ts';
import type { Command } from '../command.ts';
import type { RoomEar, RoomListening } from '../live.ts';
import { withLive } from '../state.ts';

/** The microphone is asked for. */
export const askForMicrophone: Command<[how: RoomListening, microphone: string]> = (
  desk,
  { hears, through },
  microphone,
) =>
  ok(
    withLive(desk, {
      roomEar: { hears, through, microphone, microphones: [], name: undefined, sound: undefined },
      problem: undefined,
    }),
  );

/** The browser has given the microphone; from now on the room is listened to. */
export const listenToRoom: Command<[opened: Pick<RoomEar, 'microphones'> & { readonly name: string }]> = (
  desk,
  { name, microphones },
) => {
  const { roomEar } = desk.live;
  return ok(roomEar === undefined ? desk : withLive(desk, { roomEar: { ...roomEar, name, microphones } }));
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
