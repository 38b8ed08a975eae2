import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { diskFull, unreachable } from '../../../core/library/folderProblems.ts';
import type { Folder } from '../../../core/library/folder.ts';
import type { Shelf } from '../../../core/library/library.ts';
import { memoryFolder } from '../../../core/library/memoryFolder.ts';
import { openLibrary } from '../../../core/library/openLibrary.ts';
import { packItems } from '../../../core/library/portable/pack.ts';
import { takeIn } from '../../../core/library/portable/takeIn.ts';
import { barePiece, countingTools, pieceOfVersion15, sha256 } from '../pieces.ts';
import { carry, copy, type Files, on, pack, shelfOf, value } from './carry.ts';

/** What somebody does on one of two machines. */
interface Deed {
  readonly machine: 0 | 1;
  readonly piece: 'a' | 'b' | 'c';
  readonly draft: boolean;
}
const deeds = fc.array(
  fc.record<Deed>({
    machine: fc.constantFrom(0, 1),
    piece: fc.constantFrom('a', 'b', 'c'),
    draft: fc.boolean(),
  }),
  { maxLength: 14 },
);

/** Two libraries as two machines leave them that do not know of each other, from the same beginning. */
const twoMachines = async (all: readonly Deed[]): Promise<readonly [Files, Files]> => {
  const first: Files = new Map();
  const folders = [first, new Map<string, Uint8Array>()] as const;
  // One clock, as in a school; each machine has names of its own.
  const tools = [countingTools(0, 'ra'), countingTools(0, 'rb')] as const;
  const begun = openLibrary(memoryFolder(first), tools[0]);
  value(await begun.save(barePiece('a', 'Begun'), []));
  for (const [path, bytes] of first) folders[1].set(path, bytes);
  const libraries = folders.map((files, i) => openLibrary(memoryFolder(files), tools[i] ?? tools[0]));
  for (const [i, { machine, piece, draft }] of all.entries()) {
    const library = libraries[machine] ?? begun;
    const entry = value(await library.shelf()).entries.find(one => one.id === piece);
    const parents = entry === undefined ? [] : [entry.revision];
    value(await library.save(barePiece(piece, `Step ${String(i)}`), parents, draft ? { draft } : {}));
  }
  return folders;
};

describe('work carried between two class libraries', () => {
  it('has all that the newest version can say of a piece: later metres, and the pauses they take', async () => {
    const from: Files = new Map();
    const to: Files = new Map();
    const piece = pieceOfVersion15();
    expect(piece.plan?.pauses?.length).toBeGreaterThan(0);
    const { revision } = value(await openLibrary(memoryFolder(from), countingTools()).save(piece, []));
    await carry(from, to);
    const there = openLibrary(memoryFolder(to), countingTools());
    expect(value(await there.open(piece.id, revision))).toStrictEqual(piece);
  });

  it('changes no file that is there, and carried again changes nothing', async () => {
    await fc.assert(
      fc.asyncProperty(deeds, async all => {
        const [from, to] = await twoMachines(all);
        const before = copy(to);
        await carry(from, to);
        for (const [path, bytes] of before) expect(to.get(path)).toBe(bytes);
        const after = copy(to);
        const again = await carry(from, to);
        expect(again).toMatchObject({
          newPieces: [],
          morePieces: [],
          classes: 0,
          refused: [],
          stopped: false,
        });
        expect(again.there).toBe((await pack(from)).files.length);
        expect([...to.keys()]).toEqual([...after.keys()]);
      }),
      { numRuns: 40 },
    );
  });

  it('brings every version, and both machines then show the same pieces, newest and rivals', async () => {
    await fc.assert(
      fc.asyncProperty(deeds, async all => {
        const [one, other] = await twoMachines(all);
        const versions = [...one.keys(), ...other.keys()].filter(path => !path.includes('-draft'));
        await carry(one, other);
        await carry(other, one);
        for (const path of versions) {
          expect(one.has(path)).toBe(true);
          expect(other.has(path)).toBe(true);
        }
        const told = async (files: Files) =>
          (await shelfOf(files)).entries.map(({ id, revision, rivals, facts }) => ({
            id,
            revision,
            rivals,
            facts,
          }));
        expect(await told(one)).toEqual(await told(other));
      }),
      { numRuns: 40 },
    );
  });

  it('makes no rival where only one machine went on, whatever drafts were left behind', async () => {
    await fc.assert(
      fc.asyncProperty(deeds, async all => {
        const [one, other] = await twoMachines(all.map(deed => ({ ...deed, machine: 0 })));
        await carry(one, other);
        for (const entry of (await shelfOf(other)).entries) expect(entry.rivals).toEqual([]);
        const last = (shelf: Shelf) => shelf.entries.map(entry => [entry.id, entry.revision, entry.keptAt]);
        expect(last(await shelfOf(other))).toEqual(last(await shelfOf(one)));
      }),
      { numRuns: 40 },
    );
  });

  it('says what is new, what has more revisions, and what lay there already', async () => {
    const from: Files = new Map();
    const to: Files = new Map();
    const library = openLibrary(memoryFolder(from), countingTools());
    const first = value(await library.save(barePiece('a', 'One'), []));
    value(await library.saveClass({ id: 'class-a', name: '8 Kestrel', pupils: ['Heron'], groups: [] }, []));
    expect(await pack(from)).toMatchObject({ pieces: 1, classes: 1 });
    expect(await carry(from, to)).toEqual({
      newPieces: ['a'],
      morePieces: [],
      classes: 1,
      there: 0,
      refused: [],
      stopped: false,
    });
    value(await library.save(barePiece('a', 'Two'), [first.revision]));
    value(await library.save(barePiece('b', 'Other'), []));
    expect(await carry(from, to)).toMatchObject({
      newPieces: ['b'],
      morePieces: ['a'],
      classes: 0,
      there: 2,
    });
    const shelf = await shelfOf(to);
    expect(shelf.entries.map(entry => entry.facts.title).sort()).toEqual(['Other', 'Two']);
    expect(shelf.classes.map(entry => entry.list.name)).toEqual(['8 Kestrel']);
  });

  it('carries only what was asked for', async () => {
    const from: Files = new Map();
    const library = openLibrary(memoryFolder(from), countingTools());
    value(await library.save(barePiece('a', 'One'), []));
    value(await library.save(barePiece('b', 'Two'), []));
    const packed = await pack(from, ['b', 'nowhere', 'b']);
    expect(packed).toMatchObject({ pieces: 1, classes: 0, damaged: [] });
    expect(packed.files.map(file => file.path.startsWith('items/b/'))).toEqual([true]);
  });

  it('leaves behind drafts that a version has followed, and takes the last one', async () => {
    const from: Files = new Map();
    const library = openLibrary(memoryFolder(from), countingTools());
    const kept = value(await library.save(barePiece('a', 'Kept'), []));
    const draft = value(await library.save(barePiece('a', 'Draft'), [kept.revision], { draft: true }));
    const last = value(await library.save(barePiece('a', 'Last'), [draft.revision], { draft: true }));
    expect((await pack(from)).files.map(file => file.path)).toEqual([
      `items/a/${kept.revision}.json`,
      `items/a/${last.revision}.json`,
    ]);
  });

  it('reads a sync engine’s copy as the revision it is, and lists what is not whole', async () => {
    const from: Files = new Map();
    const library = openLibrary(memoryFolder(from), countingTools());
    const { revision } = value(await library.save(barePiece('a', 'One'), []));
    const whole = from.get(`items/a/${revision}.json`) ?? new Uint8Array();
    from.set(`items/a/${revision} (1).json`, whole);
    from.set('items/a/r9.json', whole.slice(0, 50));
    from.set('items/a/.r8.json.1.part', whole);
    from.set('items/a/notes.txt', whole);
    // What some systems put beside every file on a foreign disk.
    from.set(`items/a/._${revision}.json`, new Uint8Array([0, 5, 22, 7]));
    const packed = await pack(from);
    expect(packed.files.map(file => file.path)).toEqual([`items/a/${revision}.json`]);
    expect(packed.damaged.map(problem => problem.kind)).toEqual(['damaged-file']);
  });

  it('takes nothing along that strayed into the folder of what was asked for', async () => {
    const from: Files = new Map();
    const library = openLibrary(memoryFolder(from), countingTools());
    value(await library.save(barePiece('a', 'One'), []));
    const { revision } = value(await library.save(barePiece('b', 'Another’s'), []));
    from.set(`items/a/${revision}.json`, from.get(`items/b/${revision}.json`) ?? new Uint8Array());
    const packed = await pack(from, ['a']);
    expect(packed).toMatchObject({ pieces: 1, damaged: [{ kind: 'damaged-file' }] });
    expect(packed.files.every(file => file.path.startsWith('items/a/'))).toBe(true);
  });

  it('goes on past a folder and a file that cannot be read', async () => {
    const from: Files = new Map();
    const library = openLibrary(memoryFolder(from), countingTools());
    const { revision } = value(await library.save(barePiece('a', 'One'), []));
    value(await library.save(barePiece('b', 'Two'), []));
    const packed = await pack(from, undefined, {
      read: path => (path.includes(revision) ? unreachable('EIO').problem : undefined),
    });
    expect(packed).toMatchObject({ pieces: 1, damaged: [{ kind: 'folder-gone' }] });
  });

  // Stored files of every earlier version, as they were written then.
  it.each(['piece-v1', 'piece-v2', 'piece-v3', 'piece-v4', 'class-v1', 'class-v2'])(
    'brings a file of %s',
    async stored => {
      const bytes = new Uint8Array(readFileSync(new URL(`../../migrations/${stored}.json`, import.meta.url)));
      const { id, revision } = JSON.parse(new TextDecoder().decode(bytes)) as {
        id: string;
        revision: string;
      };
      const path = `items/${id}/${revision}.json`;
      const to: Files = new Map();
      const taken = await carry(new Map([[path, bytes]]), to);
      expect(taken.refused).toEqual([]);
      // Byte for byte: its sum still holds, and an earlier Malletloom can still read it.
      expect(to.get(path)).toEqual(bytes);
      const shelf = await shelfOf(to);
      expect(shelf.entries.length + shelf.classes.length).toBe(1);
      expect(shelf.damaged).toEqual([]);
    },
  );

  it('says when the disk takes no more, and what came in before stays', async () => {
    const from: Files = new Map();
    const library = openLibrary(memoryFolder(from), countingTools());
    for (const id of ['a', 'b', 'c']) value(await library.save(barePiece(id, id), []));
    const to: Files = new Map();
    const full = memoryFolder(to, '', {
      write: path => (path.startsWith('items/b/') ? diskFull('ENOSPC').problem : undefined),
    });
    const { files } = await pack(from);
    expect(await takeIn(full, { sha256 }, files, on)).toMatchObject({
      ok: false,
      problem: { kind: 'disk-full' },
    });
    expect([...to.keys()].map(path => path.split('/')[1])).toEqual(['a']);
    // Once more, when there is room: the rest comes.
    expect(await carry(from, to)).toMatchObject({ newPieces: ['b', 'c'], there: 1 });
  });

  it('does not take a file that cannot be looked at for one that is not there', async () => {
    const from: Files = new Map();
    value(await openLibrary(memoryFolder(from), countingTools()).save(barePiece('a', 'One'), []));
    const { files } = await pack(from);
    const gone = memoryFolder(new Map(), '', { read: () => unreachable('EIO').problem });
    // Nor a folder that cannot be looked into for an empty one.
    const shut: Folder = { ...memoryFolder(), list: () => Promise.resolve(unreachable('EIO')) };
    for (const folder of [gone, shut])
      expect(await takeIn(folder, { sha256 }, files, on)).toMatchObject({
        ok: false,
        problem: { kind: 'folder-gone' },
      });
  });

  it('can be given up: nothing is packed, and what came in is told', async () => {
    const from: Files = new Map();
    const library = openLibrary(memoryFolder(from), countingTools());
    for (const id of ['a', 'b', 'c']) value(await library.save(barePiece(id, id), []));
    const told: number[][] = [];
    const twice = (done: number, of: number): Promise<boolean> => {
      told.push([done, of]);
      return Promise.resolve(done < 2);
    };
    expect(await packItems(memoryFolder(from), { sha256 }, undefined, twice)).toEqual({
      ok: true,
      value: undefined,
    });
    expect(told).toEqual([
      [0, 3],
      [1, 3],
      [2, 3],
    ]);
    const to: Files = new Map();
    const taken = value(await takeIn(memoryFolder(to), { sha256 }, (await pack(from)).files, twice));
    expect(taken).toMatchObject({ newPieces: ['a', 'b'], stopped: true });
    expect(to.size).toBe(2);
  });
});
