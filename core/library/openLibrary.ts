import { failed, type Failed, ok, type Result } from '../foundation/result.ts';
import type { Piece } from '../piece/piece.ts';
import { canonicalJson } from './canonicalJson.ts';
import { type ClassList, isClassId } from './classList.ts';
import type { Folder } from './folder.ts';
import type { ClassEntry, Library, LibraryTools, Marks, RegisterEntry, Shelf } from './library.ts';
import { ITEMS, LEFTOVER_AGE, revisionName, revisionPath, SAFE_NAME } from './paths.ts';
import { byItem, readItems } from './readItems.ts';
import type { Saved, SavedClass, Stamp } from './revision.ts';
import {
  classOf,
  entryOf,
  inClassOrder,
  inOrderOfTime,
  inRegisterOrder,
  newestRevisions,
} from './revisions.ts';
import { decodeSaved, encodeSaved } from './saved.ts';
import { decodeClass, encodeClass } from './savedClass.ts';
import { fromStored, NO_SKETCHES, type Sketch, sketchOf, type SketchStore, toStored } from './sketch.ts';
import { parentsThrough, superfluousDrafts } from './thinning.ts';

/**
 * The class library in a folder: items/<id>/<revision>.json, one immutable file a revision; pieces and
 * class lists alike. What was read once is remembered as a sketch, by the machine too, so that reading the
 * register again only lists.
 */
export const openLibrary = (
  folder: Folder,
  tools: LibraryTools,
  store: SketchStore = NO_SKETCHES,
): Library => {
  const pieces = readItems<Saved, Sketch>(folder, tools, decodeSaved, sketchOf);
  const classes = readItems<SavedClass, SavedClass>(folder, tools, decodeClass, saved => saved);
  /** Revisions whose save was not answered: who tries again means the same one, not a rival of it. */
  const unanswered = new WeakMap<Piece, Saved>();
  /** What the machine has, told by how many there are and which came last: files never change. */
  let stored = '';
  let seen: readonly (readonly Sketch[])[] = [];

  const entriesOf = (items: readonly (readonly Sketch[])[]): readonly RegisterEntry[] =>
    inRegisterOrder(items.flatMap(revisions => entryOf(revisions) ?? []));

  const remembered = async (): Promise<readonly RegisterEntry[] | undefined> => {
    const known = fromStored(await store.read(folder.where).catch(() => undefined));
    if (known.size === 0) return undefined;
    for (const [path, sketch] of known) pieces.remember(path, sketch);
    stored = stateOf(known);
    return entriesOf(byItem(known.values()));
  };

  /** Has the machine remember what there is; of no concern to anybody when it cannot. */
  const tellStore = async (): Promise<void> => {
    const now = stateOf(pieces.remembered);
    if (now === stored) return;
    stored = now;
    await store.write(folder.where, toStored(pieces.remembered)).catch(() => undefined);
  };

  const shelf = async (): Promise<Result<Shelf>> => {
    const names = await folder.list(ITEMS);
    if (!names.ok) return names;
    const shown = names.value.filter(name => !name.startsWith('.'));
    const ofPieces = await pieces.all(shown.filter(name => !isClassId(name)));
    const ofClasses = await classes.all(shown.filter(isClassId));
    seen = ofPieces.items;
    void tellStore();
    return ok({
      entries: entriesOf(seen),
      classes: inClassOrder(ofClasses.items.flatMap(revisions => classOf(revisions) ?? [])),
      damaged: [...ofClasses.damaged, ...ofPieces.damaged],
    });
  };

  /** What names a new revision; undefined where one of the names is none. */
  const stamp = (id: string, parents: readonly string[], marks: Marks): (Stamp & Marks) | undefined => {
    const revision = revisionName(tools.newId(), marks.draft === true);
    const made = { id, revision, parents, savedAt: tools.now(), ...marks };
    return [id, revision, ...parents].every(name => SAFE_NAME.test(name)) ? made : undefined;
  };

  /**
   * A newest revision that is this piece, made from the same ones: saved by a window that was killed before it
   * could note so. Saved again beside it, it would be a rival of itself.
   */
  const twinOf = async (
    piece: Piece,
    parents: readonly string[],
    before: readonly Sketch[],
  ): Promise<Sketch | undefined> => {
    const text = canonicalJson(piece);
    for (const head of newestRevisions(before)) {
      if (head.parents.join() !== parents.join()) continue;
      const saved = await pieces.revision(piece.id, head.revision);
      if (saved.ok && canonicalJson(saved.value.piece) === text) return head;
    }
    return undefined;
  };

  const save = async (
    piece: Piece,
    parents: readonly string[],
    marks: Marks = {},
  ): Promise<Result<RegisterEntry>> => {
    if (isClassId(piece.id) || !SAFE_NAME.test(piece.id)) return badName();
    const item = await pieces.one(piece.id);
    const before = item.ok ? item.value.revisions : [];
    const late = unanswered.get(piece);
    const from = parentsThrough(parents, before);
    const twin = await twinOf(piece, from, before);
    if (twin !== undefined && holds(twin, marks)) return ok(entryAfter(twin, before));
    const made = stamp(piece.id, twin === undefined ? from : [...from, twin.revision], marks);
    if (made === undefined) return badName();
    // A late one that came through was found above; one that did not may yet come.
    const stamped = late !== undefined && isSameBut(late, made) ? late : made;
    const mine: Saved = { ...stamped, piece };
    unanswered.set(piece, mine);
    const saved = await pieces.write(mine, await encodeSaved(mine, tools.sha256));
    if (!saved.ok) return saved;
    unanswered.delete(piece);
    return ok(entryAfter(sketchOf(mine), before));
  };

  const saveClass = async (
    list: ClassList,
    parents: readonly string[],
    marks: Pick<Marks, 'away'> = {},
  ): Promise<Result<ClassEntry>> => {
    const stamped = isClassId(list.id) ? stamp(list.id, parents, marks) : undefined;
    if (stamped === undefined) return badName();
    const mine: SavedClass = { ...stamped, list };
    const saved = await classes.write(mine, await encodeClass(mine, tools.sha256));
    if (!saved.ok) return saved;
    const item = await classes.one(list.id);
    const entry = classOf(item.ok ? item.value.revisions : [mine]);
    return ok(entry ?? { list, heads: [mine.revision], savedAt: mine.savedAt, away: mine.away === true });
  };

  const open = async (id: string, revision: string): Promise<Result<Piece>> => {
    if (!SAFE_NAME.test(id) || !SAFE_NAME.test(revision)) return badName();
    const saved = await pieces.revision(id, revision);
    return saved.ok ? ok(saved.value.piece) : saved;
  };

  const versions = async (id: string): Promise<Result<readonly Saved[]>> => {
    if (!SAFE_NAME.test(id)) return badName();
    const item = await pieces.whole(id);
    return item.ok ? ok(inOrderOfTime(item.value.revisions)) : item;
  };

  const tidy = async (): Promise<Result<number>> => {
    const tidied = await folder.tidy();
    if (!tidied.ok) return tidied;
    const before = new Date(Date.parse(tools.now()) - LEFTOVER_AGE).toISOString();
    let dropped = 0;
    for (const revisions of seen) {
      for (const revision of superfluousDrafts(revisions, before)) {
        const path = revisionPath(revisions[0]?.id ?? '', revision);
        // One that lies elsewhere, where a sync engine put a copy, stays.
        if (!pieces.remembered.has(path)) continue;
        const gone = await folder.dropDraft(path);
        if (!gone.ok) return gone;
        pieces.forget(path);
        dropped += 1;
      }
    }
    return ok(tidied.value + dropped);
  };

  return { where: folder.where, tidy, remembered, shelf, save, saveClass, versions, open };
};

/** Whether two revisions are the same but for their names and times. */
const isSameBut = (a: Stamp & Marks, b: Stamp & Marks): boolean =>
  a.draft === b.draft && a.away === b.away && a.parents.join() === b.parents.join();

/** Whether a revision is all that is to be saved: a version is more than the draft of the same. */
const holds = (there: Stamp & Marks, marks: Marks): boolean =>
  there.away === marks.away && (there.draft !== true || marks.draft === true);

const stateOf = (sketches: ReadonlyMap<string, Sketch>): string =>
  `${String(sketches.size)} ${[...sketches.keys()].reduce((last, path) => (path > last ? path : last), '')}`;

/** What was just saved is what the entry shows, even beside a rival with a later clock. */
const entryAfter = (mine: Sketch, before: readonly Sketch[]): RegisterEntry => {
  const others = before.filter(one => one.revision !== mine.revision);
  const entry = entryOf([...others, mine]);
  const { id, revision, savedAt, facts } = mine;
  const draft = mine.draft === true;
  return {
    id,
    revision,
    savedAt,
    facts,
    revisions: others.length + 1,
    rivals: entry === undefined ? [] : [entry.revision, ...entry.rivals].filter(one => one !== revision),
    draft,
    keptAt: draft ? entry?.keptAt : savedAt,
    away: mine.away === true,
  };
};

const badName = (): Failed =>
  failed({
    kind: 'bad-request',
    what: 'That is no name of a kept piece.',
    kept: 'Nothing was changed.',
    next: 'Choose the piece from the class register.',
  });
