/** How many places the focus is remembered at. */
const REMEMBERED = 12;

const canHave = (element: HTMLElement): boolean =>
  element.isConnected && !element.matches(':disabled') && element.getClientRects().length > 0;

/**
 * A button that was pressed by key may go, or be greyed out, and the focus would fall to the top of the document. It
 * goes back to where it was before instead, or else to the beginning of what is shown now. After a press by hand it
 * is left alone: Space plays and stops then, wherever it was pressed.
 */
export const keepFocus = (): (() => void) => {
  let been: readonly HTMLElement[] = [];
  const note = (event: FocusEvent): void => {
    const { target } = event;
    if (target instanceof HTMLElement)
      been = [...been.filter(element => element !== target && element.isConnected), target].slice(
        -REMEMBERED,
      );
  };
  const look = (pressed: HTMLElement): void => {
    // Some browsers leave it on a button that is greyed out, which then hears no key.
    if (canHave(pressed) || ![document.body, null, pressed].includes(document.activeElement as HTMLElement))
      return;
    const shown = [...document.querySelectorAll('dialog[open]')].at(-1) ?? document.querySelector('main');
    const back = been.filter(element => canHave(element) && shown?.contains(element) === true).at(-1);
    (back ?? (shown instanceof HTMLElement ? shown : undefined))?.focus({
      preventScroll: back === undefined,
    });
  };
  const pressed = (event: MouseEvent): void => {
    const { target } = event;
    if (event.detail !== 0 || !(target instanceof HTMLElement) || document.activeElement !== target) return;
    // The press is answered in this picture, and the focus lost in the next.
    requestAnimationFrame(() => {
      requestAnimationFrame(() => {
        look(target);
      });
    });
  };
  window.addEventListener('focusin', note);
  window.addEventListener('click', pressed, true);
  return () => {
    window.removeEventListener('focusin', note);
    window.removeEventListener('click', pressed, true);
  };
};
