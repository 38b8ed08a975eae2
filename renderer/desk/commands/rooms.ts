import type { MusicRoom } from '../../../core/playable/musicRoom.ts';
import type { Rooms } from '../../storage/rooms.ts';

/** The machine's rooms with one of them as it now is. */
export const putRoom = (rooms: Rooms, changed: MusicRoom): Rooms => ({
  ...rooms,
  all: rooms.all.map(room => (room.id === changed.id ? changed : room)),
});
