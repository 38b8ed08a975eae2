/** What is used of a window to bring its page back. */
export interface Recoverable {
  readonly webContents: {
    on(event: 'render-process-gone', handler: (event: unknown, details: { reason: string }) => void): unknown;
  };
  loadURL(address: string): Promise<void>;
}

/** How often a page is brought back before somebody is asked to look: one that dies at once would go on for ever. */
export const MOST_RETURNS = 3;

/**
 * Brings the page back when its process is gone (crashed, out of memory, killed): every step is in the class
 * library within a second, so it stands where it was. One that was closed on purpose stays closed.
 * @param giveUp told when it died more than MOST_RETURNS times in this run
 */
export const reviveWhenGone = (
  window: Recoverable,
  address: string,
  giveUp: (reason: string) => void,
): void => {
  let returns = 0;
  window.webContents.on('render-process-gone', (_, { reason }) => {
    if (reason === 'clean-exit') return;
    returns += 1;
    if (returns > MOST_RETURNS) giveUp(reason);
    else void window.loadURL(address).catch(() => undefined);
  });
};
