import type { Problem, Result } from '../foundation/result.ts';
import type { Piece } from '../piece/piece.ts';
import type { ClassList } from './classList.ts';
import type { PieceFacts } from './facts.ts';
import type { Saved } from './revision.ts';

/** One item of the class library as its newest revision has it. */
export interface RegisterEntry {
  readonly id: string;
  /** Name of the newest revision; sortable, unique. */
  readonly revision: string;
  /** ISO 8601. */
  readonly savedAt: string;
  readonly facts: PieceFacts;
  /** How many revisions are kept. */
  readonly revisions: number;
  /** Whether the newest revision was kept by itself. */
  readonly draft: boolean;
  /** When the newest version was kept by somebody; undefined where there are only drafts. ISO 8601. */
  readonly keptAt: string | undefined;
  readonly away: boolean;
  /** Other newest revisions, made on another machine from the same one; empty as a rule. */
  readonly rivals: readonly string[];
}

/** One class list as its newest revisions have it, together. */
export interface ClassEntry {
  readonly list: ClassList;
  /** Its newest revisions: what the next one is made from. */
  readonly heads: readonly string[];
  readonly savedAt: string;
  readonly away: boolean;
}

export interface Shelf {
  /** Newest first by code name, then title. */
  readonly entries: readonly RegisterEntry[];
  /** By name. */
  readonly classes: readonly ClassEntry[];
  /** What could not be read, and was set aside; everything else opened. */
  readonly damaged: readonly Problem[];
}

/** A class library in a folder. Every save is a new immutable revision; nothing is overwritten. */
export interface Library {
  readonly where: string;
  /** The pieces as this machine remembers them from the last time, at once; undefined where it remembers none. */
  readonly remembered: () => Promise<readonly RegisterEntry[] | undefined>;
  /** Everything as the folder has it now. */
  readonly shelf: () => Promise<Result<Shelf>>;
  /**
   * @param parents revisions this one was made from; none for a first save, all that are settled by it
   * @param marks draft: kept by itself; away: put away
   */
  readonly save: (piece: Piece, parents: readonly string[], marks?: Marks) => Promise<Result<RegisterEntry>>;
  readonly saveClass: (
    list: ClassList,
    parents: readonly string[],
    marks?: Pick<Marks, 'away'>,
  ) => Promise<Result<ClassEntry>>;
  /** Every revision of a piece that could be read, newest first. */
  readonly versions: (id: string) => Promise<Result<readonly Saved[]>>;
  /**
   * Cleans away what saves that were cut off left behind, and drafts of yesterday and before that nothing needs any
   * more; the number of files. Of drafts it knows what the last `shelf` saw.
   */
  readonly tidy: () => Promise<Result<number>>;
  readonly open: (id: string, revision: string) => Promise<Result<Piece>>;
}

/** What a revision is besides its content. */
export type Marks = Partial<Pick<Saved, 'draft' | 'away'>>;

/** What a library needs of the world, handed in because core has no clock and no randomness. */
export interface LibraryTools {
  readonly now: () => string;
  readonly newId: () => string;
  readonly sha256: (bytes: Uint8Array) => Promise<string>;
}
