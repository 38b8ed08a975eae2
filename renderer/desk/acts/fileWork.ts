import { tell } from '../commands/messages.ts';
import { setWork } from '../commands/work.ts';
import type { Desk } from '../desk.ts';

/** A job over a file or a recording. */
export interface FileJob<T> {
  /** What is being done, while it is. */
  readonly text: string;
  /** Said where somebody stops it. */
  readonly stopped: string;
  /** @returns undefined when it was stopped */
  readonly run: (signal: AbortSignal) => Promise<T | undefined>;
}

/** What takes its time over files: one at a time. */
export interface FileWork {
  /** Whoever begins another means that one. @returns undefined when it was stopped, or gave way */
  readonly inTime: <T>(job: FileJob<T>) => Promise<T | undefined>;
  /** Gives up what is being done. */
  readonly stop: () => void;
}

/** Work shorter than this is not shown, in ms. */
const SHOWN_AFTER = 300;

export const createFileWork = (desk: Desk): FileWork => {
  let atWork: AbortController | undefined;
  return {
    inTime: async ({ text, stopped, run }) => {
      atWork?.abort();
      const mine = new AbortController();
      atWork = mine;
      const late = setTimeout(() => {
        desk.run(setWork, { text, isFile: true });
      }, SHOWN_AFTER);
      try {
        const found = await run(mine.signal);
        if (found === undefined && atWork === mine) desk.run(tell, stopped);
        return atWork === mine ? found : undefined;
      } finally {
        clearTimeout(late);
        if (atWork === mine) {
          atWork = undefined;
          desk.run(setWork, undefined);
        }
      }
    },
    stop: () => {
      atWork?.abort();
    },
  };
};
