import { ok, type Problem, type Result } from '../foundation/result.ts';
import type { Folder } from './folder.ts';
import type { LibraryTools } from './library.ts';
import { ITEMS, revisionPath as pathOf, SAFE_NAME } from './paths.ts';
import type { Stamp } from './revision.ts';
import { damagedFile } from './saved.ts';

/** Folders read at one time: enough to keep a disk busy, few enough for its limit of open files. */
const AT_ONCE = 32;

/** The revisions in one folder, and what in it could not be read. */
interface Item<T> {
  readonly revisions: readonly T[];
  readonly damaged: readonly Problem[];
}

/** How one kind of item is read from a file. */
type Decode<T> = (bytes: Uint8Array, name: string, sha256: LibraryTools['sha256']) => Promise<Result<T>>;

/** Runs a job on all, some at a time, keeping the order. */
const each = async <T, R>(all: readonly T[], job: (one: T) => Promise<R>): Promise<R[]> => {
  const done: R[] = [];
  for (let at = 0; at < all.length; at += AT_ONCE) {
    done.push(...(await Promise.all(all.slice(at, at + AT_ONCE).map(job))));
  }
  return done;
};

/** Whether a file's name is that of one of the revisions with something of a sync engine's after it. */
const isCopyOf = (file: string, revisions: readonly string[]): boolean =>
  revisions.some(revision => file.startsWith(revision) && !/^[a-z0-9]/.test(file.slice(revision.length)));

/** Items of one kind, read from a folder and added to it. */
export interface Items<T> {
  /** Every item in these folders, each with all its revisions, wherever a sync engine put them. */
  readonly all: (
    folders: readonly string[],
  ) => Promise<{ readonly items: readonly (readonly T[])[]; readonly damaged: readonly Problem[] }>;
  /** One item. @param name of its folder */
  readonly one: (name: string) => Promise<Result<Item<T>>>;
  readonly revision: (id: string, revision: string) => Promise<Result<T>>;
  readonly write: (saved: T, bytes: Result<Uint8Array>) => Promise<Result<T>>;
}

/**
 * Items of one kind in a folder. What was read once is remembered.
 * @param decode never throws
 */
export const readItems = <T extends Stamp>(
  folder: Folder,
  tools: LibraryTools,
  decode: Decode<T>,
): Items<T> => {
  const remembered = new Map<string, Result<T>>();
  /** Every whole revision that was found, wherever it lay. */
  const found = new Map<string, T>();

  const readFile = async (path: string): Promise<Result<T>> => {
    const known = remembered.get(path);
    if (known !== undefined) return known;
    const bytes = await folder.read(path);
    // A disk that fails now may answer later, so this is not remembered.
    if (!bytes.ok) return bytes;
    const result = await decode(bytes.value, path, tools.sha256);
    // A sync engine may still be filling in a file that is not whole; it is read anew next time.
    if (!result.ok) return result;
    remembered.set(path, result);
    const { id, revision } = result.value;
    found.set(pathOf(id, revision), result.value);
    return result;
  };

  /**
   * The revisions in one folder. What a file says inside counts, not its name: sync engines put copies
   * beside the original under names of their own ("r1 (1).json"), and a whole copy is the revision it is.
   */
  const one = async (name: string): Promise<Result<Item<T>>> => {
    const names = await folder.list(`${ITEMS}/${name}`);
    if (!names.ok) return names;
    const files = names.value.filter(file => file.endsWith('.json') && !file.startsWith('.'));
    const results = await Promise.all(
      files.map(async file => {
        const path = `${ITEMS}/${name}/${file}`;
        const read = await readFile(path);
        // A folder under a name of ours holds one item; only a sync engine's copy of it may be called otherwise.
        const strayed = read.ok && SAFE_NAME.test(name) && read.value.id !== name;
        return strayed ? damagedFile(path, 'it belongs to another piece') : read;
      }),
    );
    const revisions = new Map(
      results.flatMap(result => (result.ok ? [[result.value.revision, result.value] as const] : [])),
    );
    // A copy that is not whole is no loss where the revision it is a copy of is there.
    const damaged = results.flatMap((result, i) =>
      result.ok || isCopyOf(files[i] ?? '', [...revisions.keys()]) ? [] : [result.problem],
    );
    return ok({ revisions: [...revisions.values()], damaged });
  };

  const all: Items<T>['all'] = async folders => {
    const items = await each(folders, async name => {
      const item = await one(name);
      // What others put beside our folders is no folder of ours that failed.
      return item.ok || SAFE_NAME.test(name) ? item : ok<Item<T>>({ revisions: [], damaged: [] });
    });
    const byId = new Map<string, Map<string, T>>();
    for (const item of items) {
      for (const saved of item.ok ? item.value.revisions : []) {
        const revisions = byId.get(saved.id) ?? new Map<string, T>();
        byId.set(saved.id, revisions.set(saved.revision, saved));
      }
    }
    return {
      items: [...byId.values()].map(revisions => [...revisions.values()]),
      damaged: items.flatMap(item => (item.ok ? item.value.damaged : [item.problem])),
    };
  };

  return {
    all,
    one,
    revision: async (id, revision) => {
      const path = pathOf(id, revision);
      const known = found.get(path);
      if (known !== undefined) return ok(known);
      const saved = await readFile(path);
      if (!saved.ok) return saved;
      return saved.value.id === id && saved.value.revision === revision
        ? saved
        : damagedFile(path, 'it belongs under another name');
    },
    write: async (saved, bytes) => {
      if (!bytes.ok) return bytes;
      const path = pathOf(saved.id, saved.revision);
      const written = await folder.writeNew(path, bytes.value);
      if (!written.ok) return written;
      remembered.set(path, ok(saved));
      found.set(path, saved);
      return ok(saved);
    },
  };
};
