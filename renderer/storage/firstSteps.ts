const NAME = 'malletloom.firstSteps';

/** Whether somebody went all the way on this machine, or had enough of being led. */
export const firstStepsAreOver = (): boolean => {
  try {
    return localStorage.getItem(NAME) === 'over';
  } catch {
    // A browser that stores nothing would lead anew at every start.
    return true;
  }
};

/** Remembers on this machine that nobody wants to be led any more, or that somebody does again. */
export const setFirstStepsOver = (over: boolean): void => {
  try {
    if (over) localStorage.setItem(NAME, 'over');
    else localStorage.removeItem(NAME);
  } catch {
    // Nothing is stored here, and so nobody is led.
  }
};
