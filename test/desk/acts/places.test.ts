import { describe, expect, it } from 'vitest';
import { watchPlaces } from '../../../renderer/desk/acts/places.ts';
import { nextPupil } from '../../../renderer/desk/commands/pupils.ts';
import { goTo } from '../../../renderer/desk/commands/settings.ts';
import { createDesk } from '../../../renderer/desk/desk.ts';
import { withPiece } from '../pieces.ts';

/** A browser's history as far as it is used: entries, and where one is (HTML, session history). */
const fakeWindow = (entries: unknown[] = [null]) => {
  let at = entries.length - 1;
  const events = new EventTarget();
  const history = {
    get state(): unknown {
      return entries[at];
    },
    pushState: (state: unknown) => {
      entries.splice(at + 1, Infinity, state);
      at += 1;
    },
    replaceState: (state: unknown) => {
      entries[at] = state;
    },
  };
  return {
    entries,
    /** Moves without an event: the window has not come to answering yet. */
    jump: (by: number): unknown => {
      at += by;
      return entries[at];
    },
    go: (by: number): boolean => {
      if (entries[at + by] === undefined) return false;
      at += by;
      events.dispatchEvent(Object.assign(new Event('popstate'), { state: entries[at] }));
      return true;
    },
    target: {
      history,
      addEventListener: events.addEventListener.bind(events),
      removeEventListener: events.removeEventListener.bind(events),
    } as unknown as Parameters<typeof watchPlaces>[1],
  };
};

describe('places in the history', () => {
  it('Back goes to the one before, forward again, and never below the floor', () => {
    const desk = createDesk(withPiece());
    const { target, go } = fakeWindow();
    watchPlaces(desk, target);
    desk.run(goTo, 'keep');
    desk.run(goTo, 'keep');
    desk.run(goTo, 'grow');
    const seen = [-1, -1, -1, -1, -1].map(by => [go(by), desk.view.peek()]);
    expect(seen).toEqual([
      [true, 'keep'],
      [true, 'write'],
      [true, 'write'],
      [true, 'write'],
      [true, 'write'],
    ]);
  });

  it('law: three Backs at once, before any is answered, never leave the app, however often', () => {
    const desk = createDesk(withPiece());
    const { target, go, jump, entries } = fakeWindow(['elsewhere', null]);
    watchPlaces(desk, target);
    for (let times = 0; times < 5; times++) {
      desk.run(goTo, times % 2 === 0 ? 'keep' : 'grow');
      while (desk.view.peek() !== 'write') expect(go(-1)).toBe(true);
      // Two that nobody has answered yet, then one that is.
      jump(-2);
      expect(go(-1)).toBe(true);
      expect(desk.view.peek()).toBe('write');
      expect(jump(0)).toEqual({ place: 'write' });
    }
    expect(entries[0]).toBe('elsewhere');
    expect(entries.length).toBeLessThan(12);
  });

  it('a place with nothing in it is passed over to Play', () => {
    const desk = createDesk(withPiece());
    const { target, go } = fakeWindow();
    watchPlaces(desk, target);
    desk.run(nextPupil);
    go(-1);
    expect(desk.view.peek()).toBe('play');
    go(1);
    expect(desk.view.peek()).toBe('play');
  });

  it('a reload lays no second floor', () => {
    const desk = createDesk();
    const first = fakeWindow();
    watchPlaces(desk, first.target)();
    const again = fakeWindow([...first.entries]);
    const stop = watchPlaces(desk, again.target);
    expect(again.entries).toEqual([
      { floor: 0 },
      { floor: 1 },
      { floor: 2 },
      { floor: 3 },
      { place: 'play' },
    ]);
    stop();
    desk.run(goTo, 'keep');
    expect(again.entries).toHaveLength(5);
  });
});
