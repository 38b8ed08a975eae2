import type { Result } from '../foundation/result.ts';

/**
 * All a class library needs of a disk: a folder, seen through five verbs, none of which can
 * lose what somebody kept. Made by node:fs in the desktop edition, by a picked directory or the origin-private file
 * system in the browser edition, and by a plain map in tests. Paths are relative, with forward slashes, never "..".
 */
export interface Folder {
  /** File and folder names directly inside a folder; none when it is not there. */
  readonly list: (path: string) => Promise<Result<readonly string[]>>;
  /** Refuses without reading it what is larger than `MOST_BYTES` ('too-large') or no ordinary file. */
  readonly read: (path: string) => Promise<Result<Uint8Array>>;
  /**
   * Writes a file that is not there yet: under a temporary name, flushed, then renamed, so that a
   * half-written file is never seen. An existing file is never overwritten ('bad-request').
   */
  readonly writeNew: (path: string, bytes: Uint8Array) => Promise<Result<void>>;
  /**
   * Removes what saves that were cut off left behind (`isLeftover`), and nothing else.
   * @returns how many files were removed
   */
  readonly tidy: () => Promise<Result<number>>;
  /** Removes the revision of a draft (`isDropped`), and no other file ('bad-request'). One that is gone already is no problem. */
  readonly dropDraft: (path: string) => Promise<Result<void>>;
  /** Where it is, in words for the teacher ("this browser's own storage", a folder's path). */
  readonly where: string;
  /** Whether it may be gone one day without anybody having meant it: a browser's own storage that was not promised to last. */
  readonly mayBeCleared?: true;
}
