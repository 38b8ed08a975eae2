import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';

/** How long a pointer rests, a finger holds or the focus stays before help comes, in ms. */
const AFTER = 700;
/** How long help stays when the mouse leaves its control, to be reached, in ms. */
const GRACE = 300;
/** Between a control and its help, in CSS pixels. */
const GAP = 6;

interface Shown {
  readonly words: string;
  readonly by: DOMRect;
}

/** What a control says of itself, and the element that says it. */
const helpOf = (target: EventTarget | null): { element: HTMLElement; words: string } | undefined => {
  if (!(target instanceof Element)) return undefined;
  const element = target.closest<HTMLElement>('[data-help], [title]');
  if (element === null) return undefined;
  const words = element.dataset['help'] ?? element.title;
  return words === '' ? undefined : { element, words };
};

/** The element shows its help under the mouse itself, as its title. */
const saysItself = (element: HTMLElement): boolean => element.dataset['help'] === undefined;

/**
 * What a control means, beside it: while a mouse rests on it, while it has the keyboard's focus, or after a long touch
 * (which then does nothing else). Any key, press or scroll takes it away; the pointer may go onto it (WCAG 2.2, 1.4.13).
 */
export const HelpTip = (): ComponentChildren => {
  const [shown, setShown] = useState<Shown | undefined>(undefined);
  const tip = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let waiting: ReturnType<typeof setTimeout> | undefined;
    let held = false;
    const stop = (): void => {
      clearTimeout(waiting);
      waiting = undefined;
    };
    const hide = (): void => {
      stop();
      setShown(undefined);
    };
    const wait = (target: EventTarget | null, isLongTouch: boolean): void => {
      stop();
      const help = helpOf(target);
      if (help === undefined) return;
      waiting = setTimeout(() => {
        if (!help.element.isConnected) return;
        held = isLongTouch;
        // What it says of itself may have changed while somebody waited.
        const { words } = helpOf(help.element) ?? help;
        setShown({ words, by: help.element.getBoundingClientRect() });
      }, AFTER);
    };
    const isOnTip = (target: EventTarget | null): boolean =>
      target instanceof Node && tip.current?.contains(target) === true;
    const over = (event: PointerEvent): void => {
      if (event.pointerType === 'touch') return;
      if (isOnTip(event.target)) stop();
      const help = helpOf(event.target);
      if (help !== undefined && !saysItself(help.element)) wait(event.target, false);
    };
    const out = (event: PointerEvent): void => {
      if (event.pointerType === 'touch') return;
      stop();
      waiting = setTimeout(hide, GRACE);
    };
    const focus = (event: FocusEvent): void => {
      if (event.target instanceof Element && event.target.matches(':focus-visible'))
        wait(event.target, false);
    };
    const press = (event: PointerEvent): void => {
      hide();
      held = false;
      if (event.pointerType === 'touch') wait(event.target, true);
    };
    /** A touch that asked for help does not press as well. */
    const click = (event: MouseEvent): void => {
      if (!held) return;
      held = false;
      event.preventDefault();
      event.stopPropagation();
    };
    const listeners = [
      ['pointerover', over],
      ['pointerout', out],
      ['focusin', focus],
      ['focusout', hide],
      ['pointerdown', press],
      ['pointerup', stop],
      ['pointercancel', hide],
      ['click', click],
      ['keydown', hide],
      ['scroll', hide],
    ] as const;
    for (const [name, listener] of listeners)
      document.addEventListener(name, listener as EventListener, true);
    return () => {
      stop();
      for (const [name, listener] of listeners)
        document.removeEventListener(name, listener as EventListener, true);
    };
  }, []);
  useLayoutEffect(() => {
    const box = tip.current;
    if (box === null || shown === undefined) return;
    // Over windows too.
    box.showPopover();
    const { by } = shown;
    const under = by.bottom + GAP + box.offsetHeight <= window.innerHeight;
    box.style.top = `${String(under ? by.bottom + GAP : Math.max(4, by.top - GAP - box.offsetHeight))}px`;
    box.style.left = `${String(Math.max(4, Math.min(by.left, window.innerWidth - box.offsetWidth - 8)))}px`;
  }, [shown]);
  if (shown === undefined) return null;
  // Screen readers have the same words as the control's description.
  return (
    <div ref={tip} class="help-tip" popover="manual" aria-hidden="true">
      {shown.words}
    </div>
  );
};
