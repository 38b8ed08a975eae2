import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { memoryFolder } from '../../../core/library/memoryFolder.ts';
import { openLibrary } from '../../../core/library/openLibrary.ts';
import { makePortable } from '../../../core/library/portable/makePortable.ts';
import { MOST_PORTABLE_BYTES } from '../../../core/library/portable/limits.ts';
import { readPortable } from '../../../core/library/portable/readPortable.ts';
import { createCarrying, isPortable } from '../../../renderer/desk/acts/carrying.ts';
import { createKeeper } from '../../../renderer/desk/acts/keeper.ts';
import { openEntry } from '../../../renderer/desk/commands/open.ts';
import { step } from '../../../renderer/desk/commands/step.ts';
import { createDesk, type Desk } from '../../../renderer/desk/desk.ts';
import { createSaveQueue } from '../../../renderer/desk/saveQueue.ts';
import type { PortableFiles } from '../../../renderer/storage/portableFiles.ts';
import { barePiece, countingTools, sha256 } from '../../library/pieces.ts';
import { pieceOf, takeOf } from '../pieces.ts';

type Files = Map<string, Uint8Array>;

/** The product's own packing, without a thread. */
const here: PortableFiles = {
  make: (files, about) => makePortable(files, about, sha256),
  read: (bytes, name) => readPortable(bytes, name, sha256),
};

/** What was handed to the browser to put on the disk. */
let made: { name: string; bytes: Uint8Array }[] = [];
const blobs = new Map<string, Blob>();

beforeEach(() => {
  made = [];
  vi.stubGlobal('document', {
    createElement: () => {
      const link = { href: '', download: '', click: () => links.push(link) };
      return link;
    },
  });
  vi.spyOn(URL, 'createObjectURL').mockImplementation(blob => {
    const url = `blob:${String(blobs.size)}`;
    blobs.set(url, blob as Blob);
    return url;
  });
});
afterEach(() => {
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
  links.length = 0;
});
const links: { href: string; download: string }[] = [];
const takeMade = async (): Promise<void> => {
  for (const link of links.splice(0)) {
    const bytes = new Uint8Array((await blobs.get(link.href)?.arrayBuffer()) ?? new ArrayBuffer(0));
    made.push({ name: link.download, bytes });
  }
};

const machine = async (files: Files = new Map(), portable = here, prefix = 'r') => {
  const desk: Desk = createDesk();
  const problems: string[] = [];
  const saves = createSaveQueue({ limit: 1000, onProblem: problem => problems.push(problem.what) });
  const folder = memoryFolder(files);
  const keeper = createKeeper(
    desk,
    saves,
    {
      atStart: () => Promise.resolve({ folder, waiting: undefined, problem: undefined }),
      canChoose: () => false,
      choose: () => Promise.resolve({ ok: true, value: undefined }),
      openWaiting: () => Promise.resolve({ ok: true, value: undefined }),
    },
    lent => openLibrary(lent, countingTools(0, prefix)),
  );
  await keeper.openAtStart();
  return { desk, keeper, carrying: createCarrying(desk, keeper, portable), files, problems };
};
const fileOf = (bytes: Uint8Array, name = 'work.malletloom'): File => new File([bytes.slice()], name);
const titlesOf = (desk: Desk): string[] => desk.library.value.entries.map(entry => entry.facts.title).sort();

describe('work carried from machine to machine', () => {
  it('takes along everything, what lies unkept on the desk too, and comes in on another machine', async () => {
    const first = await machine();
    await first.keeper.keepClass({ id: 'class-a', name: '8 Kestrel', pupils: ['Heron'], groups: [] });
    const piece = pieceOf(takeOf('one', [0, 0.5], [60, 62]));
    first.desk.run(openEntry, { id: piece.id, revision: 'r', piece });
    first.desk.run(step, 'title', old => ({ ...old, title: 'Just now' }));
    await first.carrying.make('everything', 'Class library');
    await takeMade();
    expect(made.map(one => one.name)).toEqual(['Class-library.malletloom']);
    expect(first.desk.notice.value).toBe('Class-library.malletloom was made, with 1 piece and 1 class list.');
    // It still lies where it lay.
    expect(first.desk.piece.value?.title).toBe('Just now');
    expect(first.desk.outbox.value).toEqual([]);

    const second = await machine(new Map(), here, 's');
    await second.carrying.bringIn(fileOf(made[0]?.bytes ?? new Uint8Array()));
    expect(titlesOf(second.desk)).toEqual(['Just now']);
    expect(second.desk.classes.value.map(list => list.name)).toEqual(['8 Kestrel']);
    expect(second.desk.notice.value).toBe('From work.malletloom came 1 new piece, 1 class list.');
    expect(second.desk.problem.value).toBeUndefined();
    await second.carrying.bringIn(fileOf(made[0]?.bytes ?? new Uint8Array()));
    expect(second.desk.notice.value).toBe('All of work.malletloom was here already.');
  });

  it('takes along the lines it is asked for; the class list only with the work of several', async () => {
    const { desk, keeper, carrying } = await machine();
    await keeper.keepClass({ id: 'class-a', name: '8 Kestrel', pupils: ['Heron', 'Otter'], groups: [] });
    await keeper.keepClass({ id: 'class-b', name: '9 Osprey', pupils: ['Lynx'], groups: [] });
    for (const [id, codeName] of [
      ['a', 'Heron'],
      ['b', 'Otter'],
      ['c', 'Lynx'],
    ] as const)
      await keeper.keepBeside({ ...barePiece(id, id, codeName), className: '8 Kestrel' });
    await keeper.refresh();
    const rows = desk.rows.value.filter(row => row.facts !== undefined);
    const pathsFor = async (chosen: typeof rows): Promise<string[]> => {
      made = [];
      await carrying.make(chosen, 'Some');
      await takeMade();
      const read = await here.read(made[0]?.bytes ?? new Uint8Array(), '', new AbortController().signal);
      return read?.ok === true ? read.value.files.map(file => file.path.split('/')[1] ?? '') : [];
    };
    expect(await pathsFor(rows.filter(row => row.codeName === 'Heron'))).toEqual(['a']);
    expect(await pathsFor(rows.filter(row => row.codeName !== 'Lynx'))).toEqual(['a', 'b', 'class-a']);
  });

  it('makes nothing of nothing', async () => {
    const { desk, carrying } = await machine();
    await carrying.make('everything', 'Class library');
    expect(links).toEqual([]);
    expect(desk.notice.value).toBe('There is nothing to put into a portable file yet.');
  });

  it('says what is damaged and not in it; the check names it in the register', async () => {
    const { desk, keeper, carrying, files } = await machine();
    await keeper.keepBeside(barePiece('a', 'One', 'Heron'));
    files.set('items/b/r9.json', new Uint8Array([1]));
    await carrying.check();
    expect(desk.notice.value).toBe('1 file cannot be read; the register says which.');
    expect(desk.library.value.damaged.map(problem => problem.kind)).toEqual(['damaged-file']);
    await carrying.make('everything', 'Class library');
    expect(desk.problem.value?.what).toBe(
      '1 file of the class library cannot be read and so did not go into Class-library.malletloom.',
    );
    files.delete('items/b/r9.json');
    await carrying.check();
    expect(desk.notice.value).toBe('Everything can be read: 1 piece.');
    expect(desk.library.value.damaged).toEqual([]);
  });

  it('refuses what is no portable file, and what is too large without reading it', async () => {
    const { desk, carrying, files } = await machine();
    await carrying.bringIn(fileOf(new Uint8Array([1, 2, 3])));
    expect(desk.problem.value?.kind).toBe('damaged-file');
    const large = fileOf(new Uint8Array(1));
    Object.defineProperty(large, 'size', { value: MOST_PORTABLE_BYTES + 1 });
    large.arrayBuffer = () => Promise.reject(new Error('it was read'));
    await carrying.bringIn(large);
    expect(desk.problem.value?.kind).toBe('too-large');
    const gone = fileOf(new Uint8Array(1));
    gone.arrayBuffer = () => Promise.reject(new Error('NotFoundError'));
    await carrying.bringIn(gone);
    expect(desk.problem.value?.kind).toBe('not-found');
    expect(desk.work.value).toBeUndefined();
    expect(files.size).toBe(0);
  });

  it('brings the rest where something is refused, and says both', async () => {
    const from: Files = new Map();
    const library = openLibrary(memoryFolder(from), countingTools());
    await library.save(barePiece('a', 'One'), []);
    const [[path, bytes] = ['', new Uint8Array()]] = from;
    const packed = await makePortable(
      [
        { path, bytes },
        { path: 'items/b/r1.json', bytes },
        { path: 'items/c/r1.json', bytes },
      ],
      { of: 'All', madeAt: '' },
      sha256,
    );
    const { desk, carrying } = await machine();
    await carrying.bringIn(fileOf(packed.ok ? packed.value : new Uint8Array()));
    expect(titlesOf(desk)).toEqual(['One']);
    expect(desk.problem.value).toMatchObject({
      what: 'items/b/r1.json is nothing that belongs in a class library, and was left out. So was one other.',
      kept: 'From work.malletloom came 1 new piece.',
    });
  });

  it('does one thing at a time, and can be stopped', async () => {
    const never: PortableFiles = {
      make: (_files, _about, signal) =>
        new Promise(done => {
          signal.addEventListener('abort', () => {
            done(undefined);
          });
        }),
      read: (_bytes, _name, signal) =>
        new Promise(done => {
          signal.addEventListener('abort', () => {
            done(undefined);
          });
        }),
    };
    const { desk, keeper, carrying } = await machine(new Map(), never);
    await keeper.keepBeside(barePiece('a', 'One', 'Heron'));
    const making = carrying.make('everything', 'All');
    await carrying.check();
    expect(desk.notice.value).not.toMatch(/can be read/);
    await new Promise(rest => setTimeout(rest, 350));
    expect(desk.work.value).toEqual({ text: 'Making the portable file', isFile: true });
    carrying.stop();
    await making;
    expect([desk.notice.value, desk.work.value]).toEqual(['Stopped; nothing was made.', undefined]);
    const bringing = carrying.bringIn(fileOf(new Uint8Array(3)));
    await new Promise(rest => setTimeout(rest, 5));
    carrying.stop();
    await bringing;
    expect(desk.notice.value).toBe('Stopped; nothing of work.malletloom came in.');
  });

  it('knows its files by their ending, however it is written', () => {
    expect(
      ['a.malletloom', 'A.MALLETLOOM', 'a.mid', 'malletloom', 'a.malletloom.txt'].map(name =>
        isPortable({ name }),
      ),
    ).toEqual([true, true, false, false, false]);
  });
});
