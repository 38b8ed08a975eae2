import type { Room } from '../../../core/playable/room.ts';
import type { Rooms } from '../../storage/rooms.ts';

/** The machine's rooms with one of them as it now is. */
export const putRoom = (rooms: Rooms, changed: Room): Rooms => ({
  ...rooms,
  all: rooms.all.map(room => (room.id === changed.id ? changed : room)),
});
