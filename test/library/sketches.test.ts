import { describe, expect, it } from 'vitest';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import type { Result } from '../../core/foundation/result.ts';
import type { Folder } from '../../core/library/folder.ts';
import type { Marks } from '../../core/library/library.ts';
import type { SketchStore } from '../../core/library/sketch.ts';
import type { Piece } from '../../core/piece/piece.ts';
import { planOfFour } from '../exchange/pieces.ts';
import { barePiece, countingTools } from './pieces.ts';

const value = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(result.problem.what);
  return result.value;
};

/** A machine's memory that is only a map. */
const memoryStore = (): SketchStore & { readonly kept: Map<string, unknown> } => {
  const kept = new Map<string, unknown>();
  return {
    kept,
    read: where => Promise.resolve(kept.get(where)),
    write: (where, stored) => {
      kept.set(where, JSON.parse(JSON.stringify(stored)));
      return Promise.resolve();
    },
  };
};

/** A folder that counts what is read of it. */
const counted = (files: Map<string, Uint8Array>): { folder: Folder; reads: string[] } => {
  const folder = memoryFolder(files);
  const reads: string[] = [];
  return {
    reads,
    folder: {
      ...folder,
      read: path => {
        reads.push(path);
        return folder.read(path);
      },
    },
  };
};

const two = async () => {
  const files = new Map<string, Uint8Array>();
  const store = memoryStore();
  const library = openLibrary(memoryFolder(files), countingTools(), store);
  const first = value(await library.save({ ...barePiece('a', 'Bell', 'Otter'), plan: planOfFour() }, []));
  await library.save(barePiece('b', 'Gong', 'Heron'), [], { draft: true });
  const shelf = value(await library.shelf());
  return { files, store, first, shelf };
};

describe('a register that the machine remembers', () => {
  it('is there at once, without a look at the folder, and is the same as the folder then says', async () => {
    const { files, store, shelf } = await two();
    const { folder, reads } = counted(files);
    const fresh = openLibrary(folder, countingTools(50), store);
    expect(await fresh.remembered()).toEqual(shelf.entries);
    expect(value(await fresh.shelf())).toEqual(shelf);
    expect(reads).toEqual([]);
  });

  it.each([
    ['longer than any that is told', { contour: 'u'.repeat(65), gaps: Array(65).fill(1) }],
    ['with steps and no gaps', { contour: 'uuuuu', gaps: [] }],
    ['with a gap of nothing', { contour: 'u', gaps: [0] }],
  ])('a tune %s is not believed, and the folder is read', async (_name, outline) => {
    const { files, store, shelf } = await two();
    const spoilt = JSON.stringify([...store.kept.values()][0]).replace(
      /"outline":{[^}]*}/,
      `"outline":${JSON.stringify(outline)}`,
    );
    for (const where of store.kept.keys()) store.kept.set(where, JSON.parse(spoilt));
    const { folder, reads } = counted(files);
    const fresh = openLibrary(folder, countingTools(50), store);
    await fresh.remembered();
    expect(value(await fresh.shelf())).toEqual(shelf);
    expect(reads.length).toBeGreaterThan(0);
  });

  it('reads what came since and forgets what has gone', async () => {
    const { files, store } = await two();
    await openLibrary(memoryFolder(files), countingTools(20)).save(barePiece('c', 'New'), []);
    for (const path of files.keys()) if (path.startsWith('items/b/')) files.delete(path);
    const { folder, reads } = counted(files);
    const fresh = openLibrary(folder, countingTools(50), store);
    await fresh.remembered();
    expect(
      value(await fresh.shelf())
        .entries.map(entry => entry.id)
        .sort(),
    ).toEqual(['a', 'c']);
    expect(reads).toHaveLength(1);
    const third = openLibrary(memoryFolder(files), countingTools(60), store);
    expect((await third.remembered())?.map(entry => entry.id).sort()).toEqual(['a', 'c']);
  });

  it('a piece is read whole when it is opened, and found damaged then', async () => {
    const { files, store, first } = await two();
    const path = `items/a/${first.revision}.json`;
    files.set(path, (files.get(path) ?? new Uint8Array()).slice(0, 200));
    const fresh = openLibrary(memoryFolder(files), countingTools(50), store);
    await fresh.remembered();
    expect(await fresh.open('a', first.revision)).toMatchObject({
      ok: false,
      problem: { kind: 'damaged-file' },
    });
  });

  it.each([
    ['nothing', undefined],
    ['something else', 'sketches'],
    ['another version of it', { version: 99, sketches: [] }],
    ['a path that leads elsewhere', { version: 1, sketches: [['../a.json', {}]] }],
    ['a sketch without facts', { version: 1, sketches: [['items/a/r1.json', { id: 'a', revision: 'r1' }]] }],
  ])('%s in its memory is no loss: the files are read', async (_, stored) => {
    const { files, store, shelf } = await two();
    const [where] = store.kept.keys();
    store.kept.set(where ?? '', stored);
    const fresh = openLibrary(memoryFolder(files), countingTools(50), store);
    expect(await fresh.remembered()).toBeUndefined();
    expect(value(await fresh.shelf())).toEqual(shelf);
  });

  it('copies of a sync engine are read every time: they may change', async () => {
    const { files, store, first } = await two();
    const path = `items/a/${first.revision}.json`;
    files.set(`items/a/${first.revision} (1).json`, files.get(path) ?? new Uint8Array());
    await openLibrary(memoryFolder(files), countingTools(40), store).shelf();
    const { folder, reads } = counted(files);
    const fresh = openLibrary(folder, countingTools(50), store);
    await fresh.remembered();
    await fresh.shelf();
    expect(reads).toEqual([`items/a/${first.revision} (1).json`]);
  });
});

describe('a save that was not answered in time', () => {
  it('is the same revision when it is tried again, whether the first one came through or not', async () => {
    for (const arrives of [true, false]) {
      const files = new Map<string, Uint8Array>();
      const folder = memoryFolder(files);
      let isLost = true;
      const lossy: Folder = {
        ...folder,
        writeNew: async (path, bytes) => {
          if (!isLost) return folder.writeNew(path, bytes);
          isLost = false;
          if (arrives) await folder.writeNew(path, bytes);
          throw new Error('no answer');
        },
      };
      const library = openLibrary(lossy, countingTools());
      const piece = barePiece('a');
      await expect(library.save(piece, [], { draft: true })).rejects.toThrow('no answer');
      const again = value(await library.save(piece, [], { draft: true }));
      expect([again.revisions, again.rivals, files.size]).toEqual([1, [], 1]);
      // What is kept as a version afterwards is one of its own.
      const kept = value(await library.save(piece, [again.revision]));
      expect([kept.revisions, kept.draft, files.size]).toEqual([2, false, 2]);
    }
  });

  it('is the same revision too where the first one comes through after the second', async () => {
    const files = new Map<string, Uint8Array>();
    const folder = memoryFolder(files);
    let late: (() => Promise<unknown>) | undefined;
    const slow: Folder = {
      ...folder,
      writeNew: async (path, bytes) => {
        if (late !== undefined) return folder.writeNew(path, bytes);
        late = () => folder.writeNew(path, bytes);
        throw new Error('no answer yet');
      },
    };
    const library = openLibrary(slow, countingTools());
    const piece = barePiece('a');
    await expect(library.save(piece, [])).rejects.toThrow('no answer yet');
    await library.save(piece, []);
    await late?.();
    const [entry] = value(await openLibrary(folder, countingTools(50)).shelf()).entries;
    expect([files.size, entry?.revisions, entry?.rivals]).toEqual([1, 1, []]);
  });

  /** Everything a window knows is gone, but for the piece and what it was made from. */
  const saveTwice = async (first: Marks, second: Marks, change?: Partial<Piece>) => {
    const files = new Map<string, Uint8Array>();
    const before = openLibrary(memoryFolder(files), countingTools());
    const base = value(await before.save(barePiece('a', 'As it began'), []));
    const one = value(await before.save(barePiece('a'), [base.revision], first));
    const after = openLibrary(memoryFolder(files), countingTools(50));
    const piece: Piece = { ...barePiece('a'), ...change };
    const two = value(await after.save(piece, [base.revision], second));
    const [entry] = value(await openLibrary(memoryFolder(files), countingTools(90)).shelf()).entries;
    expect(entry).toEqual(two);
    return { one, two };
  };

  it.each<[string, Marks, Marks]>([
    ['a draft as a draft', { draft: true }, { draft: true }],
    ['a version as a version', {}, {}],
    ['a version as a draft: it stays a version', {}, { draft: true }],
    ['what was put away as put away', { away: true }, { away: true }],
  ])('is the same revision when a window that was killed saves it again: %s', async (_, first, second) => {
    const { one, two } = await saveTwice(first, second);
    expect([two.revision, two.revisions, two.rivals]).toEqual([one.revision, 2, []]);
  });

  it.each<[string, Marks, Marks]>([
    ['a draft as a version', { draft: true }, {}],
    ['what was put away, as it was before', { away: true }, {}],
  ])('goes on from what it saved before it was killed: %s', async (_, first, second) => {
    const { one, two } = await saveTwice(first, second);
    expect(two.revision).not.toBe(one.revision);
    expect([two.revisions, two.rivals, two.draft, two.away]).toEqual([3, [], false, false]);
  });

  it('is a rival where it is another piece', async () => {
    const { one, two } = await saveTwice({ draft: true }, { draft: true }, { title: 'Otherwise' });
    expect([two.revisions, two.rivals]).toEqual([3, [one.revision]]);
  });
});
