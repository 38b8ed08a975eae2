import type { Result } from '../../../core/foundation/result.ts';
import type { Shelf } from '../../../core/library/library.ts';
import { type Faults, memoryFolder } from '../../../core/library/memoryFolder.ts';
import { openLibrary } from '../../../core/library/openLibrary.ts';
import { packItems } from '../../../core/library/portable/pack.ts';
import { type TakenIn, takeIn } from '../../../core/library/portable/takeIn.ts';
import { countingTools, sha256 } from '../pieces.ts';

// Two class libraries in memory, and work carried between them.

/** What a result holds; throws where it holds none. */
export const value = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(`${result.problem.what} ${result.problem.detail ?? ''}`);
  return result.value;
};
/** A class library: its files by path. */
export type Files = Map<string, Uint8Array>;
/** Goes on to the end. */
export const on = (): Promise<boolean> => Promise.resolve(true);
/** What is packed of a library, or of some items of it. */
export const pack = async (files: Files, ids?: readonly string[], faults?: Faults) => {
  const packed = value(await packItems(memoryFolder(files, '', faults), { sha256 }, ids, on));
  if (packed === undefined) throw new Error('given up');
  return packed;
};
/** Carries everything, or some items, from one library into another. */
export const carry = async (from: Files, to: Files, ids?: readonly string[]): Promise<TakenIn> =>
  value(await takeIn(memoryFolder(to), { sha256 }, (await pack(from, ids)).files, on));
/** The register of a library. */
export const shelfOf = async (files: Files): Promise<Shelf> =>
  value(await openLibrary(memoryFolder(files), countingTools()).shelf());
/** The same files in a library of their own. */
export const copy = (files: Files): Files => new Map(files);
