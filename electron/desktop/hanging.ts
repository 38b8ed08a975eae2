/** What is used of a window to notice that its page stands still. */
export interface Hangable {
  on(event: 'unresponsive', handler: () => void): unknown;
  readonly webContents: { forcefullyCrashRenderer(): void };
}

/**
 * Asks what to do with a page that stands still: wait, or end it. An ended page comes back by itself where it
 * was (`reviveWhenGone`). Asked once at a time, however often the system notices.
 * @param ask resolves to whether the page is to be ended
 */
export const askWhenHanging = (window: Hangable, ask: () => Promise<boolean>): void => {
  let isAsked = false;
  window.on('unresponsive', () => {
    if (isAsked) return;
    isAsked = true;
    void ask()
      .then(end => {
        if (end) window.webContents.forcefullyCrashRenderer();
      })
      .finally(() => {
        isAsked = false;
      });
  });
};
