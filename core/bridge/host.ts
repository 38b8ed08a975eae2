import type { Result } from '../foundation/result.ts';

/**
 * What the desktop edition lends the renderer, as `window.malletloom`: the five verbs of a folder,
 * the class library's place, and a way to choose another. Nothing else of the computer is reachable.
 */
export interface Host {
  /** The folder the class library is in, as the teacher knows it. */
  readonly where: () => Promise<Result<string>>;
  readonly list: (path: string) => Promise<Result<readonly string[]>>;
  readonly read: (path: string) => Promise<Result<Uint8Array>>;
  readonly writeNew: (path: string, bytes: Uint8Array) => Promise<Result<void>>;
  readonly tidy: () => Promise<Result<number>>;
  readonly dropDraft: (path: string) => Promise<Result<void>>;
  /** Asks the teacher for a folder; the new place, or undefined when she thought better of it. */
  readonly chooseFolder: () => Promise<Result<string | undefined>>;
}

/** The verbs, and the channel each one travels on between renderer and desktop. */
export const CHANNELS = {
  where: 'library:where',
  list: 'library:list',
  read: 'library:read',
  writeNew: 'library:write-new',
  tidy: 'library:tidy',
  dropDraft: 'library:drop-draft',
  chooseFolder: 'library:choose-folder',
} as const satisfies Record<keyof Host, string>;

/** The name the bridge has on `window`. */
export const HOST_NAME = 'malletloom';
