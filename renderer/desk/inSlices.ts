import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { finish, type Sliced } from '../../core/foundation/sliced.ts';

/** How long the page may stand still for a slice, in ms: well under the 50 that are felt. */
const SLICE = 12;

/** The clock and the waiting of a window; tests have their own. */
export interface SliceTime {
  /** In ms. */
  readonly now: () => number;
  /** Does something once others have had their turn. @returns gives it up */
  readonly later: (go: () => void) => () => void;
}

export const WINDOW_TIME: SliceTime = {
  now: () => performance.now(),
  // Not by a timer: from its fifth turn on one waits for 4 ms, a quarter of the whole work.
  later: go => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      go();
    };
    port2.postMessage(undefined);
    return () => {
      port1.close();
    };
  },
};

/** What becomes of long work. */
export interface SliceEnds<T> {
  readonly done: (result: T) => void;
  /** It threw: nobody who could catch it asked for the slice. */
  readonly broke: (thrown: unknown) => void;
}

/** Goes on with long work a slice at a time. @returns gives it up */
export const doInSlices = <T>(
  work: Sliced<T>,
  { done, broke }: SliceEnds<T>,
  time: SliceTime = WINDOW_TIME,
): (() => void) => {
  let giveUp = (): void => undefined;
  const go = (): void => {
    const until = time.now() + SLICE;
    try {
      do {
        const next = work.next();
        if (next.done === true) {
          done(next.value);
          return;
        }
      } while (time.now() < until);
    } catch (thrown) {
      broke(thrown);
      return;
    }
    giveUp = time.later(go);
  };
  giveUp = time.later(go);
  return () => {
    giveUp();
  };
};

/** What was worked out, and from what. */
export interface Worked<From, T> {
  readonly from: From;
  readonly result: T;
}

/**
 * What follows from `from`: at once where that is short; where it is long in slices, and until then what was worked
 * out last. Only the newest is worked on. What the work throws is thrown to whoever reads it.
 */
export const workedOut = <From, T>(
  from: () => From | undefined,
  work: (from: From) => Sliced<T>,
  isLong: (from: From) => boolean,
  time: SliceTime = WINDOW_TIME,
): ReadonlySignal<Worked<From, T> | undefined> => {
  const last = signal<Worked<From, T> | undefined>(undefined);
  const broken = signal<{ readonly from: From; readonly thrown: unknown } | undefined>(undefined);
  let begun: From | undefined;
  let giveUp = (): void => undefined;
  return computed(() => {
    const now = from();
    const before = last.value;
    const isNew = now !== begun;
    if (isNew) giveUp();
    begun = now;
    if (now === undefined) return undefined;
    if (before?.from === now) return before;
    if (broken.value?.from === now) throw broken.value.thrown;
    if (!isLong(now)) return { from: now, result: finish(work(now)) };
    if (isNew) {
      giveUp = doInSlices(
        work(now),
        {
          done: result => {
            last.value = { from: now, result };
          },
          broke: thrown => {
            broken.value = { from: now, thrown };
          },
        },
        time,
      );
    }
    return before;
  });
};
