/** How many places the focus is remembered at. */
const REMEMBERED = 12;
/** Pressed by hand these let go of the focus: a Space that should be heard would press them once more. */
const LETS_GO = '.history button, .projector-button';

const canHave = (element: HTMLElement): boolean =>
  element.isConnected && !element.matches(':disabled') && element.getClientRects().length > 0;

/**
 * A button that was pressed by key may go, or be greyed out, at once or when an answer comes, and the focus would fall
 * to the top of the document. It goes back to where it was before instead, or else to the beginning of what is shown
 * now. After a press by hand it is left alone: Space plays and stops then, wherever it was pressed.
 */
export const keepFocus = (): (() => void) => {
  let been: readonly HTMLElement[] = [];
  let pressed: HTMLElement | undefined;
  const note = (event: FocusEvent): void => {
    const { target } = event;
    if (target instanceof HTMLElement)
      been = [...been.filter(element => element !== target && element.isConnected), target].slice(
        -REMEMBERED,
      );
  };
  const look = (): void => {
    const at = document.activeElement;
    // Some browsers leave it on a button that is greyed out, which then hears no key.
    const isLost = at === null || at === document.body || at === pressed;
    if (pressed === undefined || !isLost || canHave(pressed)) return;
    pressed = undefined;
    const shown = [...document.querySelectorAll('dialog[open]')].at(-1) ?? document.querySelector('main');
    const back = been.filter(element => canHave(element) && shown?.contains(element) === true).at(-1);
    (back ?? (shown instanceof HTMLElement ? shown : undefined))?.focus({
      preventScroll: back === undefined,
    });
  };
  /** The press is answered in this picture, and the focus lost in the next. */
  const lookSoon = (): void => {
    requestAnimationFrame(() => {
      requestAnimationFrame(look);
    });
  };
  const click = (event: MouseEvent): void => {
    const { target } = event;
    if (!(target instanceof HTMLElement)) return;
    const isByKey = event.detail === 0;
    const at = document.activeElement;
    pressed = isByKey && at instanceof HTMLElement && at !== document.body ? at : undefined;
    if (isByKey) lookSoon();
    else target.closest<HTMLElement>(LETS_GO)?.blur();
  };
  window.addEventListener('focusin', note);
  window.addEventListener('click', click, true);
  // What took longer is put right before the next key is answered.
  window.addEventListener('keydown', look, true);
  return () => {
    window.removeEventListener('focusin', note);
    window.removeEventListener('click', click, true);
    window.removeEventListener('keydown', look, true);
  };
};
