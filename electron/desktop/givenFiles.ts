import { constants } from 'node:fs';
import * as disk from 'node:fs/promises';
import { basename, extname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { GivenFile } from '../../core/bridge/host.ts';
import { detailOf, failed, ok, type Result } from '../../core/foundation/result.ts';
import { MOST_PORTABLE_BYTES } from '../../core/library/portable/limits.ts';

/** Endings of the files that can be opened: takes, recordings, portable files. */
export const OPENABLE = ['malletloom', 'mid', 'midi', 'wav', 'mp3', 'm4a', 'ogg', 'flac', 'webm'] as const;

const isOpenable = (path: string): boolean =>
  OPENABLE.some(ending => extname(path).toLowerCase() === `.${ending}`);

/** A desktop of Linux may give a file by its address (`%U`, Desktop Entry Specification, 'Exec' key; from memory). */
const asPath = (given: string): string => {
  if (!given.startsWith('file:')) return given;
  try {
    return fileURLToPath(given);
  } catch {
    // The address of another computer, or of nothing: it stays as it was given, and is refused by name.
    return given;
  }
};

/**
 * The files among what a program was started with: its own switches and the folder of a start by hand are none.
 * @param given arguments behind the program itself
 * @param from the folder they are told from
 * @example filesAmong(['--force', '.', 'Tin roof.mid'], '/home/class') // => ['/home/class/Tin roof.mid']
 */
export const filesAmong = (given: readonly string[], from: string): readonly string[] =>
  given
    .filter(each => !each.startsWith('-'))
    .map(asPath)
    .filter(isOpenable)
    .map(each => resolve(from, each));

const refused = (name: string, what: string, next: string, detail = ''): Result<never> =>
  failed({ kind: 'not-found', what: `${name} ${what}`, kept: 'What is open stays as it is.', next, detail });

/** One file whole. Opened without waiting: a pipe without a writer would never open. */
const wholeFile = async (path: string): Promise<Result<GivenFile>> => {
  const name = basename(path);
  if (!isOpenable(path))
    return refused(
      name,
      'is no file that Malletloom opens.',
      'Choose a MIDI file, a recording or a portable file.',
    );
  try {
    const file = await disk.open(path, constants.O_RDONLY | constants.O_NONBLOCK);
    try {
      const found = await file.stat();
      if (!found.isFile()) return refused(name, 'is no file.', 'Choose another.');
      if (found.size > MOST_PORTABLE_BYTES)
        return refused(
          name,
          'is larger than anything Malletloom makes or opens.',
          'Choose a file of less than 256 MB.',
        );
      return ok({ name, bytes: new Uint8Array(await file.readFile()) });
    } finally {
      await file.close();
    }
  } catch (thrown) {
    return refused(
      name,
      'could not be read.',
      'Check that it is still there and try again.',
      detailOf(thrown),
    );
  }
};

/** More than anybody gives at once; the rest is left where it is. */
export const MOST_GIVEN = 20;

/** Files that wait to be taken by the page, each once, in the order they were given. */
export interface GivenFiles {
  readonly give: (paths: readonly string[]) => void;
  readonly take: () => Promise<Result<GivenFile | undefined>>;
}

/** @param onGiven told whenever there is something to take */
export const createGivenFiles = (onGiven: () => void): GivenFiles => {
  const waiting: string[] = [];
  return {
    give: paths => {
      waiting.push(...paths.slice(0, Math.max(0, MOST_GIVEN - waiting.length)));
      if (waiting.length > 0) onGiven();
    },
    take: async () => {
      const next = waiting.shift();
      return next === undefined ? ok(undefined) : wholeFile(next);
    },
  };
};
