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
  /** The piece as it was last kept as a version; what differs is no version yet. */
  readonly kept: Piece | undefined;
  /** The piece as the register has it as a draft. */
  readonly drafted: Piece | undefined;
  /** Pieces that left the desk, or never came to lie on it, before the register had them: drafts to be. */
  readonly outbox: readonly Piece[];
  /** The revision each piece was last saved as or opened from, by piece. */
  readonly revisions: Readonly<Record<string, string>>;
}

export const EMPTY_DOCUMENT: DocumentState = {
  history: undefined,
  kept: undefined,
  drafted: undefined,
  outbox: [],
  revisions: {},
};
