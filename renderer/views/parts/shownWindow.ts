import type { RefObject } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';

/**
 * A window over the page that is open from the moment it stands there. An effect that waits for the picture
 * would be a frame late: until then the window is seen but not modal, and an Escape in that frame is lost.
 */
export const useShownWindow = (): RefObject<HTMLDialogElement | null> => {
  const dialog = useRef<HTMLDialogElement>(null);
  useLayoutEffect(() => {
    dialog.current?.showModal();
  }, []);
  return dialog;
};
