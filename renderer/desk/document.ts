import type { History } from '../../core/piece/history.ts';
import type { Piece } from '../../core/piece/piece.ts';
import type { MusicRoom } from '../../core/playable/musicRoom.ts';

/** What lies on the desk: a piece, and the room it is to be played in. */
export interface Lying {
  readonly piece: Piece;
  readonly room: MusicRoom;
}

/** What is kept and undone. */
export interface DocumentState {
  /** Every state of what lies on the desk; undefined until something was caught or opened. */
  readonly history: History<Lying> | undefined;
  /** The piece as it was last kept; what differs is not saved yet. */
  readonly kept: Piece | undefined;
  /** The revision each piece was last saved as or opened from, by piece. */
  readonly revisions: Readonly<Record<string, string>>;
}

export const EMPTY_DOCUMENT: DocumentState = { history: undefined, kept: undefined, revisions: {} };
