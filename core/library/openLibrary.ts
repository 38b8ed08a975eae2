import { failed, type Failed, ok, type Problem, type Result } from '../foundation/result.ts';
import type { Piece } from '../piece/piece.ts';
import type { Folder } from './folder.ts';
import type { RegisterEntry, Library, LibraryTools, Shelf } from './library.ts';
import { SAFE_NAME } from './pieceShape.ts';
import { entryOf, inRegisterOrder } from './revisions.ts';
import { damagedFile, decodeSaved, encodeSaved, type Saved } from './saved.ts';

const ITEMS = 'items';
/** Folders read at one time: enough to keep a disk busy, few enough for its limit of open files. */
const AT_ONCE = 32;

const pathOf = (id: string, revision: string): string => `${ITEMS}/${id}/${revision}.json`;

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

/**
 * The class library in a folder: items/<id>/<revision>.json, one immutable file a revision. What
 * was read once is remembered, so that reading the register again only lists.
 */
export const openLibrary = (folder: Folder, tools: LibraryTools): Library => {
  const remembered = new Map<string, Result<Saved>>();

  const readRevision = async (id: string, revision: string): Promise<Result<Saved>> => {
    const path = pathOf(id, revision);
    const known = remembered.get(path);
    if (known !== undefined) return known;
    const bytes = await folder.read(path);
    // A disk that fails now may answer later, so this is not remembered.
    if (!bytes.ok) return bytes;
    const decoded = await decodeSaved(bytes.value, path, tools.sha256);
    const misplaced = decoded.ok && (decoded.value.id !== id || decoded.value.revision !== revision);
    const result = misplaced ? damagedFile(path, 'it belongs under another name') : decoded;
    // A sync engine may still be filling in a file that is not whole; it is read anew next time.
    if (result.ok) remembered.set(path, result);
    return result;
  };

  const readItem = async (id: string): Promise<Result<Item>> => {
    const names = await folder.list(`${ITEMS}/${id}`);
    if (!names.ok) return names;
    const files = names.value.filter(name => name.endsWith('.json') && !name.startsWith('.'));
    const results = await Promise.all(
      files.map(async name => {
        const revision = name.slice(0, -'.json'.length);
        return SAFE_NAME.test(revision)
          ? readRevision(id, revision)
          : damagedFile(`${ITEMS}/${id}/${name}`, 'its name is none of ours');
      }),
    );
    return ok({
      revisions: results.flatMap(result => (result.ok ? [result.value] : [])),
      damaged: results.flatMap(result => (result.ok ? [] : [result.problem])),
    });
  };

  const shelf = async (): Promise<Result<Shelf>> => {
    const names = await folder.list(ITEMS);
    if (!names.ok) return names;
    const items = await each(
      names.value.filter(name => SAFE_NAME.test(name)),
      readItem,
    );
    const entries = items.flatMap(item => (item.ok ? (entryOf(item.value.revisions) ?? []) : []));
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
    const saved = await readRevision(id, revision);
    return saved.ok ? ok(saved.value.piece) : saved;
  };

  return { where: folder.where, shelf, save, open };
};

const badName = (): Failed =>
  failed({
    kind: 'bad-request',
    what: 'That is no name of a kept piece.',
    kept: 'Nothing was changed.',
    next: 'Choose the piece from the class register.',
  });
