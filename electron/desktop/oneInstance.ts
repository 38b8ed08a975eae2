/** What is used of Electron's app to be the only one of its kind. */
export interface SingleApp {
  requestSingleInstanceLock(): boolean;
  quit(): void;
  on(
    event: 'second-instance',
    handler: (event: unknown, given: readonly string[], from: string) => void,
  ): unknown;
}

/** What is used of a window to bring it to the front. */
export interface Showable {
  isMinimized(): boolean;
  restore(): void;
  focus(): void;
}

/**
 * Makes sure that there is one Malletloom on a computer: two would write to one library and each show
 * its own half. A second start ends at once, brings the first to the front, and hands it what it was given.
 * @param given told what a second start was given, as arguments behind the program, and from which folder
 * @returns whether this is the one that stays
 */
export const beTheOnlyOne = (
  app: SingleApp,
  window: () => Showable | undefined,
  given: (args: readonly string[], from: string) => void,
): boolean => {
  if (!app.requestSingleInstanceLock()) {
    app.quit();
    return false;
  }
  app.on('second-instance', (_, args, from) => {
    const open = window();
    if (open?.isMinimized() === true) open.restore();
    open?.focus();
    given(args.slice(1), from);
  });
  return true;
};
