import { ok, type Problem, type Result } from '../../foundation/result.ts';
import { isClassId } from '../classList.ts';
import type { Folder } from '../folder.ts';
import type { LibraryTools } from '../library.ts';
import { isWritten, ITEMS, revisionPath } from '../paths.ts';
import { decodeSaved } from '../saved.ts';
import { decodeClass } from '../savedClass.ts';
import type { CarriedFile } from './manifest.ts';
import type { GoOn } from './pack.ts';

/** What became of the files of a portable file. */
export interface TakenIn {
  /** Pieces that were not here before, by id. */
  readonly newPieces: readonly string[];
  /** Pieces that were here and now have more revisions, by id. */
  readonly morePieces: readonly string[];
  readonly classes: number;
  /** Revisions that were here already, byte for byte. */
  readonly there: number;
  /** What was not taken in, each in a sentence. */
  readonly refused: readonly Problem[];
  /** Whether it was given up before the end. */
  readonly stopped: boolean;
}

/**
 * Puts files of a portable file into a class library. Nothing is overwritten: a revision that is here stays as it
 * is, and two revisions made from the same one become rivals, which the register shows.
 * @returns a problem only where the folder takes nothing more ('disk-full', 'folder-gone', 'folder-refused');
 * what came in before stays
 */
export const takeIn = async (
  folder: Folder,
  { sha256 }: Pick<LibraryTools, 'sha256'>,
  files: readonly CarriedFile[],
  goOn: GoOn,
): Promise<Result<TakenIn>> => {
  const here = await folder.list(ITEMS);
  if (!here.ok) return here;
  const before = new Set(here.value);
  const came = new Set<string>();
  const refused: Problem[] = [];
  let there = 0;
  let stopped = false;

  for (const [i, { path, bytes }] of files.entries()) {
    if (!(await goOn(i, files.length))) {
      stopped = true;
      break;
    }
    const id = isWritten(path) ? (path.split('/')[1] ?? '') : '';
    if (id === '') {
      refused.push(strange(path));
      continue;
    }
    const saved = await (isClassId(id) ? decodeClass : decodeSaved)(bytes, path, sha256);
    if (!saved.ok) {
      refused.push(unfit(path, saved.problem));
      continue;
    }
    if (revisionPath(saved.value.id, saved.value.revision) !== path) {
      refused.push(strange(path));
      continue;
    }
    const old = await folder.read(path);
    if (old.ok) {
      if (isSame(old.value, bytes)) there += 1;
      else refused.push(clash(path));
      continue;
    }
    const written = old.problem.kind === 'not-found' ? await folder.writeNew(path, bytes) : old;
    if (written.ok) came.add(id);
    else if (written.problem.kind === 'bad-request' || written.problem.kind === 'damaged-file')
      refused.push(clash(path));
    else return written;
  }
  const pieces = [...came].filter(id => !isClassId(id));
  return ok({
    newPieces: pieces.filter(id => !before.has(id)),
    morePieces: pieces.filter(id => before.has(id)),
    classes: came.size - pieces.length,
    there,
    refused,
    stopped,
  });
};

const isSame = (a: Uint8Array, b: Uint8Array): boolean =>
  a.length === b.length && a.every((byte, i) => byte === b[i]);

const REST = 'Everything else in the portable file came in.';

const strange = (path: string): Problem => ({
  kind: 'damaged-file',
  what: `${path} is nothing that belongs in a class library, and was left out.`,
  kept: REST,
  next: 'Make the portable file again where it comes from, if something is missing here.',
});

const unfit = (path: string, problem: Problem): Problem => ({
  ...problem,
  what:
    problem.kind === 'newer-file'
      ? `${path} was made by a newer Malletloom, and was left out.`
      : `${path} is damaged, and was left out.`,
  kept: REST,
});

const clash = (path: string): Problem => ({
  kind: 'conflict',
  what: `Something else lies here as ${path}, so what the portable file has was left out.`,
  kept: `What is here stays as it is. ${REST}`,
  next: 'Open both class libraries and compare that piece, if you miss something.',
});
