import { useEffect, useRef, useState } from 'preact/hooks';
import { useApp } from '../../desk/appContext.ts';

type Field = HTMLInputElement | HTMLTextAreaElement;
type OfField<E extends Event> = E & { readonly currentTarget: Field };

/** How long nothing is typed until words that must not be lost with the window are taken over, in ms. */
export const TYPING_PAUSE = 500;

/** What a field shows and listens to, to be spread over it. */
export interface Typing {
  readonly value: string;
  readonly onInput: (event: OfField<Event>) => void;
  readonly onChange: (event: OfField<Event>) => void;
  readonly onBlur: () => void;
  readonly onKeyDown: (event: KeyboardEvent) => void;
}

/**
 * Words under way in a field. They stand until they are taken over, whatever else is drawn anew meanwhile (a field that
 * only showed its value would lose them at the next drawing); they are taken over when the field is left, at a pause
 * where one is given, and when the field goes away, but never by another piece than the one they were typed for.
 * @param value what is there already
 * @param take takes the words over; one that refuses them leaves what was there. `goesOn` says that words were taken
 * over since typing began, `before` what was there then
 * @param pause how long nothing is typed until the words are taken over, in ms; never by itself without
 */
export const useTyping = (
  value: string,
  take: (typed: string, goesOn: boolean, before: string) => void,
  pause?: number,
): Typing => {
  const { desk } = useApp();
  const [typed, show] = useState<string>();
  const now = useRef({
    take,
    wasTaken: false,
    /** What was there when typing began. */
    before: value,
    of: undefined as string | undefined,
    waits: undefined as string | undefined,
  });
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  now.current.take = take;
  const settle = (): void => {
    clearTimeout(timer.current);
    const { waits, of, wasTaken, before } = now.current;
    now.current.waits = undefined;
    if (waits === undefined || of !== desk.piece.peek()?.id) return;
    now.current.wasTaken = true;
    now.current.take(waits, wasTaken, before);
  };
  const leave = (): void => {
    settle();
    now.current.wasTaken = false;
    show(undefined);
  };
  useEffect(() => settle, []);
  return {
    value: typed !== undefined && now.current.of === desk.piece.peek()?.id ? typed : value,
    onInput: event => {
      // The browser undoes what was typed last wherever that was: a field that was left has been taken over.
      if (document.activeElement !== event.currentTarget) {
        event.currentTarget.value = value;
        return;
      }
      const words = event.currentTarget.value;
      if (!now.current.wasTaken && now.current.waits === undefined) now.current.before = value;
      now.current.waits = words;
      now.current.of = desk.piece.peek()?.id;
      show(words);
      clearTimeout(timer.current);
      if (pause !== undefined) timer.current = setTimeout(settle, pause);
    },
    onChange: leave,
    onBlur: leave,
    onKeyDown: event => {
      // A line goes back to what it was; a longer text is kept, for Escape closes its window.
      if (event.key !== 'Escape' || event.currentTarget instanceof HTMLTextAreaElement) return;
      clearTimeout(timer.current);
      now.current.waits = undefined;
      if (now.current.wasTaken && now.current.of === desk.piece.peek()?.id)
        now.current.take(now.current.before, true, now.current.before);
      now.current.wasTaken = false;
      show(undefined);
    },
  };
};
