import { appendFileSync, mkdirSync, renameSync, statSync } from 'node:fs';
import { basename, dirname } from 'node:path';

/** A log is begun anew at this size, in bytes; the one before it stays beside it, and none older. */
export const MOST_LOG_BYTES = 256 * 1024;

/** Notes what the program did, for whoever looks after the computer. */
export interface Log {
  readonly note: (event: string) => void;
  /** What was thrown: its kind and where, without its message, which may hold a name or a path. */
  readonly thrown: (where: string, thrown: unknown) => void;
}

/** Printable ASCII on one line, cut: whatever is noted, a log stays a log. */
const oneLine = (words: string): string =>
  words
    .replace(/[^\x21-\x7e]+/g, ' ')
    .trim()
    .slice(0, 400);

/**
 * The kind of an error and the lines of our own program it came through, without messages and folders.
 * @example withoutContent(new TypeError('Heron’s piece')) // => a string that begins with 'TypeError'
 */
export const withoutContent = (thrown: unknown): string => {
  if (!(thrown instanceof Error)) return typeof thrown;
  const code = (thrown as NodeJS.ErrnoException).code;
  const frames = [...(thrown.stack ?? '').matchAll(/\n\s+at .*?([^\s()]+:\d+:\d+)\)?(?=\n|$)/g)]
    .slice(0, 6)
    .map(([, at]) => basename((at ?? '').replace(/\?[^:]*/, '')));
  return [thrown.name, ...(code === undefined ? [] : [code]), ...frames].join(' ');
};

/**
 * A log in a file of lines: the time, and what happened. It holds versions, events and kinds of problems, and no
 * name, title, note or path, so that it can be sent to somebody. What cannot be written is not: a log stops nobody.
 * @param now the time, as ISO 8601
 */
export const createLog = (file: string, now: () => string): Log => {
  const note = (event: string): void => {
    try {
      mkdirSync(dirname(file), { recursive: true });
      const size = statSync(file, { throwIfNoEntry: false })?.size ?? 0;
      if (size > MOST_LOG_BYTES) renameSync(file, `${file}.1`);
      appendFileSync(file, `${now()} ${oneLine(event)}\n`);
    } catch {
      // A full or locked disk: the program goes on without a log.
    }
  };
  return {
    note,
    thrown: (where, thrown) => {
      note(`${where}: ${withoutContent(thrown)}`);
    },
  };
};
