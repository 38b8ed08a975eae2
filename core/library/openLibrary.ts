import { failed, type Failed, ok, type Problem, type Result } from '../foundation/result.ts';
import type { Piece } from '../piece/piece.ts';
import type { Folder } from './folder.ts';
import type { RegisterEntry, Library, LibraryTools, Shelf } from './library.ts';
import { ITEMS, revisionPath as pathOf, SAFE_NAME } from './paths.ts';
import { entryOf, inRegisterOrder } from './revisions.ts';
import { damagedFile, decodeSaved, encodeSaved, type Saved } from './saved.ts';

/** Folders read at one time: enough to keep a disk busy, few enough for its limit of open files. */
const AT_ONCE = 32;

interface Item {
  readonly revisions: readonly Saved[];
  readonly damaged: readonly Problem[];
}

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

/**
 * The class library in a folder: items/<id>/<revision>.json, one immutable file a revision. What
 * was read once is remembered, so that reading the register again only lists.
 */
export const openLibrary = (folder: Folder, tools: LibraryTools): Library => {
  const remembered = new Map<string, Result<Saved>>();

  /** Every whole revision that was found, wherever it lay. */
  const found = new Map<string, Saved>();

  const readFile = async (path: string): Promise<Result<Saved>> => {
    const known = remembered.get(path);
    if (known !== undefined) return known;
    const bytes = await folder.read(path);
    // A disk that fails now may answer later, so this is not remembered.
    if (!bytes.ok) return bytes;
    const result = await decodeSaved(bytes.value, path, tools.sha256);
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
  const readItem = async (name: string): Promise<Result<Item>> => {
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

  const shelf = async (): Promise<Result<Shelf>> => {
    const names = await folder.list(ITEMS);
    if (!names.ok) return names;
    const items = await each(
      names.value.filter(name => !name.startsWith('.')),
      // What others put beside our folders is no folder of ours that failed.
      async name => {
        const item = await readItem(name);
        return item.ok || SAFE_NAME.test(name) ? item : ok<Item>({ revisions: [], damaged: [] });
      },
    );
    const byId = new Map<string, Map<string, Saved>>();
    for (const item of items) {
      for (const saved of item.ok ? item.value.revisions : []) {
        const all = byId.get(saved.id) ?? new Map<string, Saved>();
        byId.set(saved.id, all.set(saved.revision, saved));
      }
    }
    const entries = [...byId.values()].flatMap(revisions => entryOf([...revisions.values()]) ?? []);
    const damaged = items.flatMap(item => (item.ok ? item.value.damaged : [item.problem]));
    return ok({ entries: inRegisterOrder(entries), damaged });
  };

  const write = async (piece: Piece, parents: readonly string[]): Promise<Result<Saved>> => {
    const saved: Saved = { id: piece.id, revision: tools.newId(), parents, savedAt: tools.now(), piece };
    if (![saved.id, saved.revision, ...parents].every(name => SAFE_NAME.test(name))) return badName();
    const bytes = await encodeSaved(saved, tools.sha256);
    if (!bytes.ok) return bytes;
    const path = pathOf(saved.id, saved.revision);
    const written = await folder.writeNew(path, bytes.value);
    if (!written.ok) return written;
    remembered.set(path, ok(saved));
    found.set(path, saved);
    return ok(saved);
  };

  const save = async (piece: Piece, parents: readonly string[]): Promise<Result<RegisterEntry>> => {
    const saved = await write(piece, parents);
    if (!saved.ok) return saved;
    const item = await readItem(piece.id);
    const others = item.ok ? item.value.revisions.filter(r => r.revision !== saved.value.revision) : [];
    const entry = entryOf([...others, saved.value]);
    const { revision, savedAt } = saved.value;
    // What was just saved is what the entry shows, even beside a rival with a later clock.
    const rivals = entry === undefined ? [] : [entry.revision, ...entry.rivals].filter(r => r !== revision);
    return ok({ id: piece.id, revision, savedAt, piece, revisions: others.length + 1, rivals });
  };

  const open = async (id: string, revision: string): Promise<Result<Piece>> => {
    if (!SAFE_NAME.test(id) || !SAFE_NAME.test(revision)) return badName();
    const path = pathOf(id, revision);
    const known = found.get(path);
    if (known !== undefined) return ok(known.piece);
    const saved = await readFile(path);
    if (!saved.ok) return saved;
    if (saved.value.id !== id || saved.value.revision !== revision)
      return damagedFile(path, 'it belongs under another name');
    return ok(saved.value.piece);
  };

  return { where: folder.where, tidy: folder.tidy, shelf, save, open };
};

const badName = (): Failed =>
  failed({
    kind: 'bad-request',
    what: 'That is no name of a kept piece.',
    kept: 'Nothing was changed.',
    next: 'Choose the piece from the class register.',
  });
