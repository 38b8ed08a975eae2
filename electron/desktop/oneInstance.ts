/** What is used of Electron's app to be the only one of its kind. */
export interface SingleApp {
  requestSingleInstanceLock(): boolean;
  quit(): void;
  on(event: 'second-instance', handler: () => void): unknown;
}

/** What is used of a window to bring it to the front. */
export interface Showable {
  isMinimized(): boolean;
  restore(): void;
  focus(): void;
}

/**
 * Makes sure that there is one Malletloom on a computer: two would write to one library and each show
 * its own half. A second start ends at once and brings the first to the front.
 * @returns whether this is the one that stays
 */
export const beTheOnlyOne = (app: SingleApp, window: () => Showable | undefined): boolean => {
  if (!app.requestSingleInstanceLock()) {
    app.quit();
    return false;
  }
  app.on('second-instance', () => {
    const open = window();
    if (open?.isMinimized() === true) open.restore();
    open?.focus();
  });
  return true;
};
