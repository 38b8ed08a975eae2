const NAME = 'malletloom.along';

/** Whether somebody was asked on this machine to take the work along, and answered. */
export const wasAskedToTakeAlong = (): boolean => {
  try {
    return localStorage.getItem(NAME) !== null;
  } catch {
    return false;
  }
};

/** Remembers that it was answered: it is asked once. */
export const rememberTakeAlong = (): void => {
  try {
    localStorage.setItem(NAME, 'answered');
  } catch {
    // A browser that stores nothing asks again the next time.
  }
};
