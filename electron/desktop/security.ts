import { isOurs } from './appAddress.ts';

/**
 * MIDI without system exclusive, and the microphone without a camera; only for pages of the app itself. The page asks
 * for the microphone when somebody chooses to have the room listened to.
 * @param media what of 'media' is asked for, as Electron says it; a camera beside a microphone is refused with it
 */
export const mayUse = (permission: string, address: string, media: readonly string[] = []): boolean =>
  isOurs(address) &&
  (permission === 'midi' ||
    (permission === 'media' && media.length > 0 && media.every(one => one === 'audio')));

/** What is used of an Electron session. */
export interface GuardedSession {
  setPermissionRequestHandler(
    handler: (
      contents: unknown,
      permission: string,
      answer: (granted: boolean) => void,
      details: { requestingUrl?: string; mediaTypes?: readonly string[] },
    ) => void,
  ): void;
  setPermissionCheckHandler(
    handler: (
      contents: unknown,
      permission: string,
      origin: string,
      details?: { mediaType?: string },
    ) => boolean,
  ): void;
}

/** Sets both handlers: a check that is not handled would be granted. */
export const guardPermissions = (session: GuardedSession): void => {
  session.setPermissionRequestHandler((_, permission, answer, details) => {
    answer(mayUse(permission, details.requestingUrl ?? '', details.mediaTypes));
  });
  session.setPermissionCheckHandler((_, permission, origin, details) =>
    mayUse(permission, origin, details?.mediaType === undefined ? [] : [details.mediaType]),
  );
};

/** What no contents of the app ever do, by their own will, a server's or a frame's. */
const REFUSED = ['will-navigate', 'will-redirect', 'will-frame-navigate', 'will-attach-webview'] as const;

/** What is used of a window's contents. */
export interface GuardedContents {
  on(event: (typeof REFUSED)[number], handler: (event: { preventDefault(): void }) => void): unknown;
  setWindowOpenHandler(handler: () => { action: 'deny' }): void;
}

/** The one page stays the one page: no navigation, no new windows, no embedded views. */
export const guardContents = (contents: GuardedContents): void => {
  for (const event of REFUSED) {
    contents.on(event, attempted => {
      attempted.preventDefault();
    });
  }
  contents.setWindowOpenHandler(() => ({ action: 'deny' }));
};

/** How every window of the app is shut off from the computer. */
export const SAFE_PREFERENCES = {
  contextIsolation: true,
  sandbox: true,
  nodeIntegration: false,
  webSecurity: true,
  // A minimised window must go on hearing strikes on time.
  backgroundThrottling: false,
} as const;
