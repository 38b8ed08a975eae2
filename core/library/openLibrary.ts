import { failed, type Failed, ok, type Result } from '../foundation/result.ts';
import type { Piece } from '../piece/piece.ts';
import { type ClassList, isClassId } from './classList.ts';
import type { Folder } from './folder.ts';
import type { ClassEntry, Library, LibraryTools, Marks, RegisterEntry, Shelf } from './library.ts';
import { ITEMS, SAFE_NAME } from './paths.ts';
import { readItems } from './readItems.ts';
import type { Saved, SavedClass, Stamp } from './revision.ts';
import { classOf, entryOf, inClassOrder, inOrderOfTime, inRegisterOrder } from './revisions.ts';
import { decodeSaved, encodeSaved } from './saved.ts';
import { decodeClass, encodeClass } from './savedClass.ts';

/**
 * The class library in a folder: items/<id>/<revision>.json, one immutable file a revision; pieces and
 * class lists alike. What was read once is remembered, so that reading the register again only lists.
 */
export const openLibrary = (folder: Folder, tools: LibraryTools): Library => {
  const pieces = readItems<Saved>(folder, tools, decodeSaved);
  const classes = readItems<SavedClass>(folder, tools, decodeClass);

  const shelf = async (): Promise<Result<Shelf>> => {
    const names = await folder.list(ITEMS);
    if (!names.ok) return names;
    const shown = names.value.filter(name => !name.startsWith('.'));
    const ofPieces = await pieces.all(shown.filter(name => !isClassId(name)));
    const ofClasses = await classes.all(shown.filter(isClassId));
    return ok({
      entries: inRegisterOrder(ofPieces.items.flatMap(revisions => entryOf(revisions) ?? [])),
      classes: inClassOrder(ofClasses.items.flatMap(revisions => classOf(revisions) ?? [])),
      damaged: [...ofClasses.damaged, ...ofPieces.damaged],
    });
  };

  /** What names a new revision; undefined where one of the names is none. */
  const stamp = (id: string, parents: readonly string[], marks: Marks): (Stamp & Marks) | undefined => {
    const made = { id, revision: tools.newId(), parents, savedAt: tools.now(), ...marks };
    return [id, made.revision, ...parents].every(name => SAFE_NAME.test(name)) ? made : undefined;
  };

  const save = async (
    piece: Piece,
    parents: readonly string[],
    marks: Marks = {},
  ): Promise<Result<RegisterEntry>> => {
    const stamped = isClassId(piece.id) ? undefined : stamp(piece.id, parents, marks);
    if (stamped === undefined) return badName();
    const mine: Saved = { ...stamped, piece };
    const saved = await pieces.write(mine, await encodeSaved(mine, tools.sha256));
    if (!saved.ok) return saved;
    const item = await pieces.one(piece.id);
    const others = item.ok ? item.value.revisions.filter(r => r.revision !== mine.revision) : [];
    const { revision, savedAt } = mine;
    const entry = entryOf([...others, mine]);
    // What was just saved is what the entry shows, even beside a rival with a later clock.
    const rivals = entry === undefined ? [] : [entry.revision, ...entry.rivals].filter(r => r !== revision);
    const draft = mine.draft === true;
    const keptAt = draft ? entry?.keptAt : savedAt;
    const away = mine.away === true;
    return ok({
      id: piece.id,
      revision,
      savedAt,
      piece,
      revisions: others.length + 1,
      rivals,
      draft,
      keptAt,
      away,
    });
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
    const item = await pieces.one(id);
    return item.ok ? ok(inOrderOfTime(item.value.revisions)) : item;
  };

  return { where: folder.where, tidy: folder.tidy, shelf, save, saveClass, versions, open };
};

const badName = (): Failed =>
  failed({
    kind: 'bad-request',
    what: 'That is no name of a kept piece.',
    kept: 'Nothing was changed.',
    next: 'Choose the piece from the class register.',
  });
