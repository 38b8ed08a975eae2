import { describe, expect, it } from 'vitest';
import type { Result } from '../../core/foundation/result.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { diskFull } from '../../core/library/folderProblems.ts';
import { VERSION } from '../../core/library/migrations.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { barePiece, countingTools, fullPiece } from './pieces.ts';

const value = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(`${result.problem.what} ${result.problem.detail ?? ''}`);
  return result.value;
};

describe('a class library', () => {
  it('gives back exactly what was kept, to another session too', async () => {
    const files = new Map<string, Uint8Array>();
    const piece = fullPiece();
    const entry = value(await openLibrary(memoryFolder(files), countingTools()).save(piece, []));
    const later = openLibrary(memoryFolder(files), countingTools(100));
    expect(value(await later.open(piece.id, entry.revision))).toEqual(piece);
    expect(entry.away).toBe(false);
    expect(value(await later.shelf())).toEqual({ entries: [entry], classes: [], damaged: [] });
    expect([...files.keys()]).toEqual([`items/piece-1/${entry.revision}.json`]);
  });

  it('keeps every revision as its own file and shows the newest', async () => {
    const files = new Map<string, Uint8Array>();
    const library = openLibrary(memoryFolder(files), countingTools());
    const first = value(await library.save(barePiece('a', 'One'), []));
    const before = files.get(`items/a/${first.revision}.json`);
    const second = value(await library.save(barePiece('a', 'Two'), [first.revision]));
    expect(second.revisions).toBe(2);
    expect(second.rivals).toEqual([]);
    expect(files.get(`items/a/${first.revision}.json`)).toEqual(before);
    expect(value(await library.shelf()).entries.map(e => e.facts.title)).toEqual(['Two']);
    expect(value(await library.open('a', first.revision)).title).toBe('One');
  });

  it('shows rivals that two machines made from one revision, until one save settles them', async () => {
    const files = new Map<string, Uint8Array>();
    const folder = memoryFolder(files);
    const here = openLibrary(folder, countingTools(0, 'a'));
    const there = openLibrary(folder, countingTools(0, 'b'));
    const root = value(await here.save(barePiece('x', 'Root'), []));
    const mine = value(await here.save(barePiece('x', 'Mine'), [root.revision]));
    const theirs = value(await there.save(barePiece('x', 'Theirs'), [root.revision]));
    expect(theirs.rivals).toEqual([mine.revision]);
    const [entry] = value(await here.shelf()).entries;
    expect(entry).toMatchObject({ revision: theirs.revision, rivals: [mine.revision], revisions: 3 });
    await here.save(barePiece('x', 'Both'), [mine.revision, theirs.revision]);
    const [settled] = value(await there.shelf()).entries;
    expect(settled).toMatchObject({ rivals: [], revisions: 4, facts: { title: 'Both' } });
  });

  it('puts the register in order of code name, title, then newest', async () => {
    const library = openLibrary(memoryFolder(), countingTools());
    await library.save(barePiece('a', 'Tin roof', 'Wren'), []);
    await library.save(barePiece('b', 'ferry bell', 'Wren'), []);
    await library.save(barePiece('c', 'Zebra', 'heron'), []);
    await library.save(barePiece('d', 'Tin roof', 'Wren'), []);
    expect(value(await library.shelf()).entries.map(e => e.id)).toEqual(['c', 'b', 'd', 'a']);
  });

  it('only lists when the register is read again', async () => {
    const files = new Map<string, Uint8Array>();
    await openLibrary(memoryFolder(files), countingTools()).save(barePiece('a'), []);
    let reads = 0;
    const counted = memoryFolder(files, 'here', {
      read: () => {
        reads++;
        return undefined;
      },
    });
    const library = openLibrary(counted, countingTools(50));
    await library.shelf();
    await library.shelf();
    expect(reads).toBe(1);
  });

  it.each([
    ['cut short', (bytes: Uint8Array) => bytes.slice(0, bytes.length >> 1)],
    ['empty', () => new Uint8Array()],
    ['garbage', () => Uint8Array.from({ length: 500 }, (_, i) => (i * 37) % 256)],
    ['other JSON', () => new TextEncoder().encode('[1, 2, {"piece": null}]')],
    [
      'one figure changed',
      (bytes: Uint8Array) =>
        new TextEncoder().encode(new TextDecoder().decode(bytes).replace('"misfit":18.75', '"misfit":18.76')),
    ],
  ])('sets a file aside that is %s, and opens all others', async (_, spoil) => {
    const files = new Map<string, Uint8Array>();
    const library = openLibrary(memoryFolder(files), countingTools());
    const good = value(await library.save(barePiece('good'), []));
    const first = value(await library.save(barePiece('bad', 'Able'), []));
    const second = value(await library.save(barePiece('bad', 'After'), [first.revision]));
    const path = `items/bad/${second.revision}.json`;
    files.set(path, spoil(files.get(path) ?? new Uint8Array()));
    const fresh = openLibrary(memoryFolder(files), countingTools(50));
    const shelf = value(await fresh.shelf());
    expect(shelf.entries.map(e => [e.id, e.facts.title])).toEqual([
      ['bad', 'Able'],
      ['good', good.facts.title],
    ]);
    expect(shelf.damaged).toHaveLength(1);
    expect(shelf.damaged[0]).toMatchObject({ kind: 'damaged-file' });
    expect(shelf.damaged[0]?.what).toContain(path);
    expect(files.has(path)).toBe(true);
  });

  it('says of a newer file that it is newer, not damaged', async () => {
    const files = new Map<string, Uint8Array>();
    const newer = { format: 'malletloom-piece', version: VERSION + 1, strange: true };
    files.set('items/n/r1.json', new TextEncoder().encode(JSON.stringify(newer)));
    const shelf = value(await openLibrary(memoryFolder(files), countingTools()).shelf());
    expect(shelf.damaged[0]?.kind).toBe('newer-file');
    expect(files.has('items/n/r1.json')).toBe(true);
  });

  it.each([
    'r000001 (1).json',
    'r000001 (copy).json',
    'r000001 (conflicted copy 2026-01-05).json',
    'r000001.sync-conflict-20260105-090000-ABCDEFG.json',
    'r000001-Laptop.json',
  ])('takes a whole copy that a sync engine called “%s” for the revision it is', async name => {
    const files = new Map<string, Uint8Array>();
    const { revision } = value(
      await openLibrary(memoryFolder(files), countingTools()).save(barePiece('a'), []),
    );
    const path = `items/a/${revision}.json`;
    const bytes = files.get(path) ?? new Uint8Array();
    files.set(`items/a/${name}`, bytes);
    const both = value(await openLibrary(memoryFolder(files), countingTools(9)).shelf());
    expect(both.entries).toMatchObject([{ id: 'a', revision, revisions: 1, rivals: [] }]);
    expect(both.damaged).toEqual([]);
    // The original is cut: the copy stands in for it, and can be opened.
    files.set(path, bytes.slice(0, 40));
    const library = openLibrary(memoryFolder(files), countingTools(9));
    const copy = value(await library.shelf());
    expect(copy.entries).toMatchObject([{ id: 'a', revision }]);
    expect(copy.damaged).toEqual([]);
    expect(value(await library.open('a', revision)).id).toBe('a');
    // Neither whole: it is told.
    files.set(`items/a/${name}`, bytes.slice(0, 60));
    const neither = value(await openLibrary(memoryFolder(files), countingTools(9)).shelf());
    expect(neither.entries).toEqual([]);
    expect(neither.damaged).toHaveLength(2);
  });

  it('joins a whole folder that a sync engine copied with the one it is a copy of', async () => {
    const files = new Map<string, Uint8Array>();
    const library = openLibrary(memoryFolder(files), countingTools());
    const first = value(await library.save(barePiece('a', 'One'), []));
    const second = value(await library.save(barePiece('a', 'Two'), [first.revision]));
    const from = `items/a/${second.revision}.json`;
    files.set(`items/a (1)/${second.revision}.json`, files.get(from) ?? new Uint8Array());
    files.delete(from);
    const fresh = openLibrary(memoryFolder(files), countingTools(9));
    expect(value(await fresh.shelf())).toMatchObject({
      entries: [{ id: 'a', revision: second.revision, revisions: 2, rivals: [], facts: { title: 'Two' } }],
      damaged: [],
    });
    expect(value(await fresh.open('a', second.revision)).title).toBe('Two');
  });

  it('reports a file that lies with another piece, and leaves temporaries alone', async () => {
    const files = new Map<string, Uint8Array>();
    const library = openLibrary(memoryFolder(files), countingTools());
    const { revision } = value(await library.save(barePiece('a'), []));
    const bytes = files.get(`items/a/${revision}.json`) ?? new Uint8Array();
    files.set('items/b/other.json', bytes);
    files.set('items/a/.half.part', bytes);
    files.set('items/a/r0000012.json', bytes.slice(0, 50));
    const shelf = value(await openLibrary(memoryFolder(files), countingTools(9)).shelf());
    expect(shelf.entries.map(e => e.id)).toEqual(['a']);
    expect(shelf.damaged.map(p => p.what)).toEqual([
      expect.stringContaining('items/a/r0000012.json'),
      expect.stringContaining('items/b/other.json'),
    ]);
  });

  it('opens nothing under a name that is not its own', async () => {
    const files = new Map<string, Uint8Array>();
    const library = openLibrary(memoryFolder(files), countingTools());
    const { revision } = value(await library.save(barePiece('a'), []));
    const bytes = files.get(`items/a/${revision}.json`) ?? new Uint8Array();
    files.set('items/a/other.json', bytes);
    files.set(`items/b/${revision}.json`, bytes);
    const fresh = openLibrary(memoryFolder(files), countingTools(9));
    expect(await fresh.open('a', 'other')).toMatchObject({ ok: false, problem: { kind: 'damaged-file' } });
    expect(await fresh.open('b', revision)).toMatchObject({ ok: false, problem: { kind: 'damaged-file' } });
    expect(value(await fresh.open('a', revision)).id).toBe('a');
  });

  it('reads each folder once, however many there are', async () => {
    const files = new Map<string, Uint8Array>();
    const library = openLibrary(memoryFolder(files), countingTools());
    for (let i = 0; i < 70; i++) await library.save(barePiece(`p${String(i)}`), []);
    const listed: string[] = [];
    const folder = memoryFolder(files);
    const counted = {
      ...folder,
      list: (path: string) => {
        listed.push(path);
        return folder.list(path);
      },
    };
    expect(value(await openLibrary(counted, countingTools(90)).shelf()).entries).toHaveLength(70);
    expect(listed.filter(path => path !== 'items')).toHaveLength(70);
    expect(new Set(listed).size).toBe(71);
  });

  it('takes no notice of what others put beside its folders', async () => {
    const files = new Map<string, Uint8Array>();
    await openLibrary(memoryFolder(files), countingTools()).save(barePiece('a'), []);
    const folder = memoryFolder(files);
    const notAFolder = { kind: 'not-found', what: 'No folder.', kept: '', next: '' } as const;
    const shelf = await openLibrary(
      {
        ...folder,
        list: async path => {
          if (path.endsWith('.ini')) return { ok: false, problem: notAFolder };
          const names = await folder.list(path);
          return names.ok && path === 'items' ? { ok: true, value: [...names.value, 'desktop.ini'] } : names;
        },
      },
      countingTools(9),
    ).shelf();
    expect(value(shelf)).toMatchObject({ entries: [{ id: 'a' }], damaged: [] });
  });

  it('keeps old revisions when the disk is full, and leaves no half file', async () => {
    const files = new Map<string, Uint8Array>();
    const first = value(
      await openLibrary(memoryFolder(files), countingTools()).save(barePiece('a', 'Old'), []),
    );
    const full = diskFull('test');
    const library = openLibrary(
      memoryFolder(files, 'full', { write: () => full.problem }),
      countingTools(50),
    );
    const refused = await library.save(barePiece('a', 'New'), [first.revision]);
    expect(refused).toMatchObject({ ok: false, problem: { kind: 'disk-full' } });
    expect([...files.keys()]).toEqual([`items/a/${first.revision}.json`]);
    expect(value(await library.shelf()).entries.map(e => e.facts.title)).toEqual(['Old']);
  });

  it('tells of one folder of ours that cannot be looked into, and shows the others', async () => {
    const files = new Map<string, Uint8Array>();
    const there = openLibrary(memoryFolder(files), countingTools());
    for (const id of ['a', 'b']) value(await there.save(barePiece(id), []));
    const problem = { kind: 'folder-gone', what: 'Gone.', kept: '', next: '' } as const;
    const disk = memoryFolder(files);
    const list = (path: string): ReturnType<typeof disk.list> =>
      path === 'items/a' ? Promise.resolve({ ok: false, problem }) : disk.list(path);
    const shelf = value(await openLibrary({ ...disk, list }, countingTools(50)).shelf());
    expect([shelf.entries.map(entry => entry.id), shelf.damaged]).toEqual([['b'], [problem]]);
  });

  it('tells of a read that failed and tries it again the next time', async () => {
    const files = new Map<string, Uint8Array>();
    await openLibrary(memoryFolder(files), countingTools()).save(barePiece('a'), []);
    let gone = true;
    const problem = { kind: 'folder-gone', what: 'Gone.', kept: '', next: '' } as const;
    const library = openLibrary(
      memoryFolder(files, 'drive', { read: () => (gone ? problem : undefined) }),
      countingTools(50),
    );
    expect(value(await library.shelf())).toEqual({ entries: [], classes: [], damaged: [problem] });
    gone = false;
    expect(value(await library.shelf()).entries).toHaveLength(1);
  });

  it.each(['../out', 'A', 'a/b', '', 'a.b'])('takes no name like "%s"', async name => {
    const files = new Map<string, Uint8Array>();
    const library = openLibrary(memoryFolder(files), countingTools());
    expect((await library.save(barePiece(name), [])).ok).toBe(false);
    expect((await library.save(barePiece('a'), [name])).ok).toBe(false);
    expect((await library.open(name, 'r1')).ok).toBe(false);
    expect((await library.open('a', name)).ok).toBe(false);
    expect(files.size).toBe(0);
  });
});
