import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';

const ITEM = 'button:not(:disabled), a[href]';

/** Walks the focus among the items of a menu with the arrow keys. */
const walk = (panel: HTMLElement, by: 1 | -1): void => {
  const items = [...panel.querySelectorAll<HTMLElement>(ITEM)];
  const at = items.indexOf(document.activeElement as HTMLElement);
  items[(at + by + items.length) % items.length]?.focus();
};

/**
 * A button that opens a panel under it. Escape closes it and the focus goes back; so does a press
 * elsewhere. In a menu the arrow keys walk.
 */
export const Drop = (props: {
  label?: string;
  tabIndex?: number;
  class: string;
  text: ComponentChildren;
  panelLabel: string;
  panelClass?: string;
  /** Whether the arrow keys walk among its buttons; a panel with a field of its own has other uses for them. */
  menu?: boolean;
  children: (close: () => void) => ComponentChildren;
}): ComponentChildren => {
  const [open, setOpen] = useState(false);
  const button = useRef<HTMLButtonElement>(null);
  const panel = useRef<HTMLDivElement>(null);
  const close = (): void => {
    setOpen(false);
    button.current?.focus();
  };
  useLayoutEffect(() => {
    if (!open || panel.current === null || button.current === null) return;
    const from = button.current.getBoundingClientRect();
    const { style, offsetWidth, offsetHeight } = panel.current;
    const under = from.bottom + 4 + offsetHeight <= window.innerHeight;
    style.top = `${String(under ? from.bottom + 4 : Math.max(4, from.top - 4 - offsetHeight))}px`;
    style.left = `${String(Math.max(4, Math.min(from.left, window.innerWidth - offsetWidth - 8)))}px`;
    panel.current.querySelector<HTMLElement>(`input, ${ITEM}`)?.focus();
  }, [open]);
  useEffect(() => {
    if (!open) return;
    const elsewhere = (event: Event): void => {
      const { target } = event;
      if (target instanceof Node && (panel.current?.contains(target) || button.current?.contains(target)))
        return;
      setOpen(false);
    };
    window.addEventListener('pointerdown', elsewhere, true);
    window.addEventListener('resize', elsewhere);
    return () => {
      window.removeEventListener('pointerdown', elsewhere, true);
      window.removeEventListener('resize', elsewhere);
    };
  }, [open]);
  return (
    <>
      <button
        ref={button}
        class={props.class}
        aria-label={props.label}
        title={props.label}
        tabIndex={props.tabIndex}
        aria-expanded={open}
        aria-haspopup="dialog"
        onClick={event => {
          event.stopPropagation();
          setOpen(!open);
        }}
      >
        {props.text}
      </button>
      {open ? (
        <div
          ref={panel}
          class={`card drop-panel ${props.panelClass ?? ''}`}
          role="dialog"
          aria-label={props.panelLabel}
          onClick={event => {
            event.stopPropagation();
          }}
          onKeyDown={event => {
            if (event.key === 'Escape') close();
            else if (props.menu === true && event.key === 'ArrowDown') walk(event.currentTarget, 1);
            else if (props.menu === true && event.key === 'ArrowUp') walk(event.currentTarget, -1);
            else if (event.key === 'Tab' && event.currentTarget.querySelectorAll(ITEM).length === 0) close();
            else {
              event.stopPropagation();
              return;
            }
            event.preventDefault();
            event.stopPropagation();
          }}
        >
          {props.children(close)}
        </div>
      ) : null}
    </>
  );
};
