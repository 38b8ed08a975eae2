const NAME = 'malletloom.microphone';

/** The browser's id of the microphone chosen on this machine; empty where none was, or nothing can be stored. */
export const storedMicrophone = (): string => {
  try {
    return localStorage.getItem(NAME) ?? '';
  } catch {
    return '';
  }
};

/** Remembers it on this machine; a browser that stores nothing takes the system's own at the next start. */
export const storeMicrophone = (id: string): void => {
  try {
    localStorage.setItem(NAME, id);
  } catch {
    // Private windows may refuse; it holds until this one is closed.
  }
};
