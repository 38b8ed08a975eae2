import { ok, type Problem, type Result } from '../../foundation/result.ts';
import { isClassId } from '../classList.ts';
import type { Folder } from '../folder.ts';
import type { LibraryTools } from '../library.ts';
import { ITEMS, revisionPath } from '../paths.ts';
import type { Stamp } from '../revision.ts';
import { damagedFile, decodeSaved } from '../saved.ts';
import { decodeClass } from '../savedClass.ts';
import { superfluousDrafts } from '../thinning.ts';
import type { CarriedFile } from './manifest.ts';

/** Called before each item with how many are done; false gives the work up. */
export type GoOn = (done: number, of: number) => Promise<boolean>;

/** What lies in a class library, read through from the first byte to the last. */
export interface Packed {
  readonly files: readonly CarriedFile[];
  /** Pieces with at least one revision that is whole. */
  readonly pieces: number;
  readonly classes: number;
  /** What could not be read, and so is not among the files. */
  readonly damaged: readonly Problem[];
}

/** Later than any revision: every draft that nothing needs is left out. */
const EVER = '9999';

/**
 * Reads every revision of some items, or of all, as their files are: what a portable file carries, and the check
 * whether everything can be read. Drafts that something kept has followed are left out.
 * @param ids of pieces and class lists; undefined for everything there is
 * @returns undefined in place of a value when it was given up
 */
export const packItems = async (
  folder: Folder,
  { sha256 }: Pick<LibraryTools, 'sha256'>,
  ids: readonly string[] | undefined,
  goOn: GoOn,
): Promise<Result<Packed | undefined>> => {
  const names = ids === undefined ? await folder.list(ITEMS) : ok(ids);
  if (!names.ok) return names;
  const folders = [...new Set(names.value)].filter(name => !name.startsWith('.'));
  const found = new Map<string, Map<string, Stamp & { readonly bytes: Uint8Array }>>();
  const damaged: Problem[] = [];

  const readFile = async (path: string): Promise<void> => {
    const bytes = await folder.read(path);
    if (!bytes.ok) {
      damaged.push(bytes.problem);
      return;
    }
    const decode = isClassId(path.slice(ITEMS.length + 1)) ? decodeClass : decodeSaved;
    const saved = await decode(bytes.value, path, sha256);
    if (!saved.ok) damaged.push(saved.problem);
    else if (ids !== undefined && !ids.includes(saved.value.id))
      damaged.push(damagedFile(path, 'it belongs to another piece').problem);
    else {
      const { id, revision, parents, savedAt } = saved.value;
      const item = found.get(id) ?? new Map<string, Stamp & { readonly bytes: Uint8Array }>();
      found.set(id, item.set(revision, { id, revision, parents, savedAt, bytes: bytes.value }));
    }
  };

  for (const [i, name] of folders.entries()) {
    if (!(await goOn(i, folders.length))) return ok(undefined);
    const files = await folder.list(`${ITEMS}/${name}`);
    if (!files.ok) {
      damaged.push(files.problem);
      continue;
    }
    for (const file of files.value)
      if (file.endsWith('.json') && !file.startsWith('.')) await readFile(`${ITEMS}/${name}/${file}`);
  }
  const carried = [...found.values()].flatMap(item => {
    const revisions = [...item.values()];
    const gone = new Set(superfluousDrafts(revisions, EVER));
    return revisions.filter(one => !gone.has(one.revision));
  });
  const of = [...found.keys()];
  return ok({
    files: carried.map(one => ({ path: revisionPath(one.id, one.revision), bytes: one.bytes })),
    pieces: of.filter(id => !isClassId(id)).length,
    classes: of.filter(isClassId).length,
    damaged,
  });
};
