import { effect, untracked } from '@preact/signals';
import { goTo } from '../commands/settings.ts';
import type { Desk } from '../desk.ts';
import type { View } from '../session.ts';

/** What is used of a window. */
export type HistoryWindow = Pick<Window, 'addEventListener' | 'removeEventListener'> & {
  readonly history: Pick<History, 'state' | 'pushState' | 'replaceState'>;
};

const VIEWS: readonly View[] = ['play', 'write', 'grow', 'keep'];
const placeOf = (state: unknown): View | undefined => {
  const place = (state as { readonly place?: unknown } | null)?.place;
  return VIEWS.find(view => view === place);
};

/** How many entries lie under the places: so many presses of Back may come before the first is answered. */
const FLOORS = 4;
const floorOf = (state: unknown): number => {
  const floor = (state as { readonly floor?: unknown } | null)?.floor;
  return typeof floor === 'number' ? floor : 0;
};

/**
 * The places one has been to are the browser's history: Back goes to the one before. Under them lie
 * floors, so that Back never leaves the app, pressed quickly neither. @returns a way to stop
 */
export const watchPlaces = (desk: Desk, target: HistoryWindow): (() => void) => {
  const { history } = target;
  const put = (view: View, how: 'pushState' | 'replaceState'): void => {
    history[how]({ place: view }, '');
  };
  let shown = desk.view.peek();
  /** Lays the floors above the one that is stood on, and the place on them. */
  const layFloors = (from: number): void => {
    for (let floor = from + 1; floor < FLOORS; floor++) history.pushState({ floor }, '');
    put(shown, 'pushState');
  };
  if (placeOf(history.state) === undefined) {
    history.replaceState({ floor: 0 }, '');
    layFloors(0);
  } else put(shown, 'replaceState');

  const unfollow = effect(() => {
    const view = desk.view.value;
    if (view === shown) return;
    shown = view;
    put(view, 'pushState');
  });
  const back = (event: Event): void => {
    const place = placeOf((event as PopStateEvent).state);
    untracked(() => {
      if (place === undefined) {
        layFloors(floorOf((event as PopStateEvent).state));
        return;
      }
      const isEmpty = (place === 'write' || place === 'grow') && desk.piece.peek() === undefined;
      shown = isEmpty ? 'play' : place;
      desk.run(goTo, shown);
      if (isEmpty) put(shown, 'replaceState');
    });
  };
  target.addEventListener('popstate', back);
  return () => {
    unfollow();
    target.removeEventListener('popstate', back);
  };
};
