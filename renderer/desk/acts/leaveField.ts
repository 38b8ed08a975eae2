/**
 * Leaves the field that is written in, so that its words are taken over by the piece they were typed for: before a key
 * or the menu goes to another pupil, place or version.
 */
export const leaveField = (): void => {
  const at = document.activeElement;
  if (at instanceof HTMLInputElement || at instanceof HTMLTextAreaElement) at.blur();
};
