const NAME = 'malletloom.start';

/** What a window of this machine shows when it is opened. */
export type StartView = 'teacher' | 'pupil';

/** What was chosen on this machine; the teacher's view where nothing was, or nothing can be stored. */
export const storedStartView = (): StartView => {
  try {
    return localStorage.getItem(NAME) === 'pupil' ? 'pupil' : 'teacher';
  } catch {
    return 'teacher';
  }
};

/** Remembers it on this machine; a browser that stores nothing only forgets it at the end. */
export const storeStartView = (view: StartView): void => {
  try {
    localStorage.setItem(NAME, view);
  } catch {
    // Private windows may refuse; the next start shows the teacher's view.
  }
};
