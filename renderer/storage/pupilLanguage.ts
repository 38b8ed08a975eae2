const NAME = 'malletloom.pupilLanguage';

/** What the pupil view speaks on this machine: English where nothing was chosen, or nothing can be stored. */
export const storedPupilLanguage = (): 'en' | 'de' => {
  try {
    return localStorage.getItem(NAME) === 'de' ? 'de' : 'en';
  } catch {
    return 'en';
  }
};

/** Remembers it on this machine; a browser that stores nothing speaks English at the next start. */
export const storePupilLanguage = (language: 'en' | 'de'): void => {
  try {
    localStorage.setItem(NAME, language);
  } catch {
    // Private windows may refuse; the session still has it.
  }
};
