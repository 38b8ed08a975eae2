import { detailOf, ok, type Problem, type Result } from '../foundation/result.ts';
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
  readonly paths: readonly string[];
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

/** What is in these folders: each item with all its revisions, wherever a sync engine put them. */
export interface Found<S> {
  readonly items: readonly (readonly S[])[];
  readonly damaged: readonly Problem[];
}

/**
 * Items of one kind, read from a folder and added to it.
 * T is a whole revision, S what is remembered of it.
 */
export interface Items<T, S> {
  /** Reads only what is not remembered, and forgets what is not there any more. */
  readonly all: (folders: readonly string[]) => Promise<Found<S>>;
  /** One item, as far as it is remembered. @param name of its folder */
  readonly one: (name: string) => Promise<Result<Item<S>>>;
  /** One item read anew. @param name of its folder */
  readonly whole: (name: string) => Promise<Result<Item<T>>>;
  readonly revision: (id: string, revision: string) => Promise<Result<T>>;
  readonly write: (saved: T, bytes: Result<Uint8Array>) => Promise<Result<T>>;
  /** What is remembered, by path: a file under a name of ours never changes once it is whole. */
  readonly remembered: ReadonlyMap<string, S>;
  readonly remember: (path: string, sketch: S) => void;
  readonly forget: (path: string) => void;
}

/**
 * Items of one kind in a folder. What was read once is remembered as a sketch.
 * @param decode never throws
 * @param sketch what is remembered of a revision
 */
export const readItems = <T extends Stamp, S extends Stamp>(
  folder: Folder,
  tools: LibraryTools,
  decode: Decode<T>,
  sketch: (saved: T) => S,
): Items<T, S> => {
  const remembered = new Map<string, S>();
  /** Where every whole revision lies, by where it would lie under its own name. */
  const lies = new Map<string, string>();

  const remember = (path: string, one: S): void => {
    remembered.set(path, one);
    lies.set(pathOf(one.id, one.revision), path);
  };

  const readFile = async (path: string): Promise<Result<T>> => {
    const bytes = await folder.read(path);
    // A disk that fails now may answer later, so this is not remembered.
    if (!bytes.ok) return bytes;
    const result = await decode(bytes.value, path, tools.sha256);
    // A sync engine may still be filling in a file that is not whole; it is read anew next time.
    if (!result.ok) return result;
    try {
      remember(path, sketch(result.value));
      return result;
    } catch (thrown) {
      // Its figures are each in range, and yet nothing can be told of it.
      return damagedFile(path, detailOf(thrown));
    }
  };

  const sketched = async (path: string): Promise<Result<S>> => {
    const known = remembered.get(path);
    if (known !== undefined) return ok(known);
    const read = await readFile(path);
    return read.ok ? ok(remembered.get(path) ?? sketch(read.value)) : read;
  };

  /**
   * The revisions in one folder. What a file says inside counts, not its name: sync engines put copies
   * beside the original under names of their own ("r1 (1).json"), and a whole copy is the revision it is.
   */
  const inFolder = async <R extends Stamp>(
    name: string,
    read: (path: string) => Promise<Result<R>>,
  ): Promise<Result<Item<R>>> => {
    const names = await folder.list(`${ITEMS}/${name}`);
    if (!names.ok) return names;
    const files = names.value.filter(file => file.endsWith('.json') && !file.startsWith('.'));
    const results = await Promise.all(
      files.map(async file => {
        const path = `${ITEMS}/${name}/${file}`;
        const one = await read(path);
        // A folder under a name of ours holds one item; only a sync engine's copy of it may be called otherwise.
        const strayed = one.ok && SAFE_NAME.test(name) && one.value.id !== name;
        return strayed ? damagedFile(path, 'it belongs to another piece') : one;
      }),
    );
    const revisions = new Map(
      results.flatMap(result => (result.ok ? [[result.value.revision, result.value] as const] : [])),
    );
    // A copy that is not whole is no loss where the revision it is a copy of is there.
    const damaged = results.flatMap((result, i) =>
      result.ok || isCopyOf(files[i] ?? '', [...revisions.keys()]) ? [] : [result.problem],
    );
    return ok({
      revisions: [...revisions.values()],
      damaged,
      paths: files.map(file => `${ITEMS}/${name}/${file}`),
    });
  };

  const all: Items<T, S>['all'] = async folders => {
    const items = await each(folders, async name => {
      const item = await inFolder(name, sketched);
      // What others put beside our folders is no folder of ours that failed.
      return item.ok || SAFE_NAME.test(name) ? item : ok<Item<S>>({ revisions: [], damaged: [], paths: [] });
    });
    const there = new Set(items.flatMap(item => (item.ok ? item.value.paths : [])));
    for (const path of remembered.keys()) if (!there.has(path)) remembered.delete(path);
    return {
      items: byItem(items.flatMap(item => (item.ok ? item.value.revisions : []))),
      damaged: items.flatMap(item => (item.ok ? item.value.damaged : [item.problem])),
    };
  };

  return {
    all,
    one: name => inFolder(name, sketched),
    whole: name => inFolder(name, readFile),
    revision: async (id, revision) => {
      const path = pathOf(id, revision);
      const saved = await readFile(lies.get(path) ?? path);
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
      remember(path, sketch(saved));
      return ok(saved);
    },
    remembered,
    remember,
    forget: path => {
      remembered.delete(path);
    },
  };
};

/** Revisions put together by the item they are of; each once, however many copies there are. */
export const byItem = <S extends Stamp>(revisions: Iterable<S>): readonly (readonly S[])[] => {
  const byId = new Map<string, Map<string, S>>();
  for (const one of revisions) {
    const item = byId.get(one.id) ?? new Map<string, S>();
    byId.set(one.id, item.set(one.revision, one));
  }
  return [...byId.values()].map(item => [...item.values()]);
};
