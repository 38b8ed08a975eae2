import type { Problem, Result } from '../foundation/result.ts';
import type { Piece } from '../piece/piece.ts';

/** One item of the class library as its newest revision has it. */
export interface RegisterEntry {
  readonly id: string;
  /** Name of the newest revision; sortable, unique. */
  readonly revision: string;
  /** ISO 8601. */
  readonly savedAt: string;
  readonly piece: Piece;
  /** How many revisions are kept. */
  readonly revisions: number;
  /** Other newest revisions, made on another machine from the same one; empty as a rule. */
  readonly rivals: readonly string[];
}

export interface Shelf {
  /** Newest first by code name, then title. */
  readonly entries: readonly RegisterEntry[];
  /** What could not be read, and was set aside; everything else opened. */
  readonly damaged: readonly Problem[];
}

/** A class library in a folder. Every save is a new immutable revision; nothing is overwritten. */
export interface Library {
  readonly where: string;
  readonly shelf: () => Promise<Result<Shelf>>;
  /** @param parents revisions this one was made from; none for a first save */
  readonly save: (piece: Piece, parents: readonly string[]) => Promise<Result<RegisterEntry>>;
  /** Cleans away what saves that were cut off left behind; the number of files. */
  readonly tidy: () => Promise<Result<number>>;
  readonly open: (id: string, revision: string) => Promise<Result<Piece>>;
}

/** What a library needs of the world, handed in because core has no clock and no randomness. */
export interface LibraryTools {
  readonly now: () => string;
  readonly newId: () => string;
  readonly sha256: (bytes: Uint8Array) => Promise<string>;
}
