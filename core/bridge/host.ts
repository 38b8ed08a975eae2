import type { Result } from '../foundation/result.ts';
import type { MenuAct, MenuState } from './menu.ts';

/** A file the teacher gave the program: by a double click, at a second start, in its own dialogue. */
export interface GivenFile {
  /** Its name without folders. */
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** What the desktop tells the page: that a file was given, or what was chosen in the menu. */
export type Told =
  | { readonly kind: 'given' }
  | { readonly kind: 'act'; readonly act: MenuAct }
  | { readonly kind: 'open'; readonly id: string };

/**
 * What the desktop edition lends the renderer, as `window.malletloom`: the five verbs of a folder, the class
 * library's place and a way to choose another, the files that were given, and the menu. Nothing else of the
 * computer is reachable.
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
  /** The next file that was given and not yet taken; undefined when there is none. Each is given once. */
  readonly takeGiven: () => Promise<Result<GivenFile | undefined>>;
  /** Makes the menu say what can be done now. */
  readonly showMenu: (state: MenuState) => Promise<Result<void>>;
  /** Puts the kind of a problem into the log: never a name, a title or a note. */
  readonly noteProblem: (kind: string) => Promise<Result<void>>;
  /** Listens to the desktop; there is one listener, the last. */
  readonly onTold: (listener: (told: Told) => void) => void;
}

/** The channel on which the desktop tells the page. */
export const TOLD = 'desktop:told';

/** The verbs that ask, and the channel each one travels on between renderer and desktop. */
export const CHANNELS = {
  where: 'library:where',
  list: 'library:list',
  read: 'library:read',
  writeNew: 'library:write-new',
  tidy: 'library:tidy',
  dropDraft: 'library:drop-draft',
  chooseFolder: 'library:choose-folder',
  takeGiven: 'desktop:take-given',
  showMenu: 'desktop:show-menu',
  noteProblem: 'desktop:note-problem',
} as const satisfies Record<Exclude<keyof Host, 'onTold'>, string>;

/** The name the bridge has on `window`. */
export const HOST_NAME = 'malletloom';
