import { effect, untracked } from '@preact/signals';
import { detailOf } from '../../../core/foundation/result.ts';
import type { DeskRecords } from '../../storage/deskRecords.ts';
import { complain, tell } from '../commands/messages.ts';
import { restore, setSafe } from '../commands/safe.ts';
import type { Desk } from '../desk.ts';
import { toSafe } from '../safe.ts';

/** A database that does not answer must not keep the window shut, in ms. */
const PATIENCE = 2000;
const patience = (): Promise<undefined> =>
  new Promise(resolve =>
    setTimeout(() => {
      resolve(undefined);
    }, PATIENCE),
  );

/** What lies on the desk is on disk within this time, in ms. */
const WITHIN = 400;

export interface Safekeeping {
  /** Puts back what this window had, or what a window that was lost had; says so. */
  readonly takeUp: () => Promise<void>;
  /** Begins to keep everything by itself. @returns a way to stop */
  readonly begin: () => () => void;
  /** Writes now what is not written yet. */
  readonly flush: () => Promise<void>;
}

/** @param clockStart performance.timeOrigin of this window */
export const createSafekeeping = (desk: Desk, records: DeskRecords, clockStart: number): Safekeeping => {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let writing: Promise<void> = Promise.resolve();
  let isWaiting = false;
  let isTold = false;

  const write = async (): Promise<void> => {
    try {
      await records.write(toSafe(desk.now(), clockStart));
      if (timer === undefined && !isWaiting) desk.run(setSafe, 'safe');
    } catch (thrown) {
      desk.run(setSafe, 'unsafe');
      if (isTold) return;
      isTold = true;
      desk.run(complain, {
        kind: 'disk-full',
        what: 'What you do here can no longer be kept by itself.',
        kept: 'The piece is still open here, and what was kept before is untouched.',
        next: 'Keep it in the class library now, and make room on the disk.',
        detail: detailOf(thrown),
      });
    }
  };
  const flush = (): Promise<void> => {
    clearTimeout(timer);
    timer = undefined;
    // While one is being written, one more waits at the most: it writes the newest.
    if (isWaiting) return writing;
    isWaiting = true;
    writing = writing.then(() => {
      isWaiting = false;
      return write();
    });
    return writing;
  };

  return {
    takeUp: async () => {
      try {
        const stored = await Promise.race([records.read(), patience()]);
        if (stored !== undefined && desk.run(restore, stored, clockStart) && desk.piece.peek() !== undefined)
          desk.run(tell, 'Everything is here as it was left.');
      } catch {
        // A browser that stores nothing starts with an empty desk, and says so when something is to be kept.
      }
    },
    begin: () => {
      let isFirst = true;
      const unfollow = effect(() => {
        const parts = [desk.document.value, desk.session.value, desk.memory.value];
        if (isFirst || parts.length === 0) {
          isFirst = false;
          return;
        }
        timer ??= setTimeout(() => void flush(), WITHIN);
        untracked(() => {
          if (desk.safe.peek() !== 'soon') desk.run(setSafe, 'soon');
        });
      });
      const now = (): void => {
        if (timer !== undefined) void flush();
      };
      const hidden = (): void => {
        if (document.visibilityState === 'hidden') now();
      };
      document.addEventListener('visibilitychange', hidden);
      window.addEventListener('pagehide', now);
      return () => {
        unfollow();
        document.removeEventListener('visibilitychange', hidden);
        window.removeEventListener('pagehide', now);
      };
    },
    flush,
  };
};
