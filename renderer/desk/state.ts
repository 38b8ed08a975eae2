import { type DocumentState, EMPTY_DOCUMENT } from './document.ts';
import { EMPTY_LIVE, type LiveState } from './live.ts';
import { FIRST_SESSION, type SessionState } from './session.ts';

/**
 * Everything the window knows, in three scopes by lifetime: the document is kept and undone, the
 * session survives a reload, what is live is gone with the window.
 */
export interface DeskState {
  readonly document: DocumentState;
  readonly session: SessionState;
  readonly live: LiveState;
}

export const FIRST_DESK: DeskState = { document: EMPTY_DOCUMENT, session: FIRST_SESSION, live: EMPTY_LIVE };

/** The desk with parts of its session, or of what is live, changed. */
export const withSession = (desk: DeskState, change: Partial<SessionState>): DeskState => ({
  ...desk,
  session: { ...desk.session, ...change },
});
export const withLive = (desk: DeskState, change: Partial<LiveState>): DeskState => ({
  ...desk,
  live: { ...desk.live, ...change },
});
