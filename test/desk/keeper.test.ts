import { factsOf } from '../../core/library/facts.ts';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { failed, ok, type Problem, type Result } from '../../core/foundation/result.ts';
import type { RegisterEntry, Library } from '../../core/library/library.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { createKeeper, type Keeper } from '../../renderer/desk/acts/keeper.ts';
import { complain } from '../../renderer/desk/commands/messages.ts';
import { openEntry } from '../../renderer/desk/commands/open.ts';
import { step, undoStep } from '../../renderer/desk/commands/step.ts';
import { createDesk, type Desk } from '../../renderer/desk/desk.ts';
import { createSaveQueue } from '../../renderer/desk/saveQueue.ts';
import type { LibraryFinder } from '../../renderer/storage/libraryFinder.ts';
import { pieceOf } from './pieces.ts';

const FULL: Problem = {
  kind: 'disk-full',
  what: 'The disk is full.',
  kept: 'It is open.',
  next: 'Free some.',
};

let number = 0;
const tools = {
  now: () => '2026-01-01T00:00:00.000Z',
  newId: () => `r-${String((number += 1)).padStart(6, '0')}`,
  sha256: (bytes: Uint8Array) => Promise.resolve(String(bytes.length).padStart(64, '0')),
};

/** A keeper over a library in memory whose saves take as long as `pause` says. */
const keeperWith = async (
  pause: () => Promise<void> = () => Promise.resolve(),
  change: (library: Library) => Partial<Library> = () => ({}),
): Promise<{ desk: Desk; keeper: Keeper; library: Library; parents: (readonly string[])[] }> => {
  const desk = createDesk();
  const folder = memoryFolder();
  const real = openLibrary(folder, tools);
  const parents: (readonly string[])[] = [];
  const slow: Library = {
    ...real,
    save: async (piece, from) => {
      parents.push(from);
      await pause();
      return real.save(piece, from);
    },
  };
  const library = { ...slow, ...change(slow) };
  const finder: LibraryFinder = {
    atStart: () => Promise.resolve({ folder, waiting: 'USB', problem: undefined }),
    canChoose: () => true,
    choose: () => Promise.resolve(ok(undefined)),
    openWaiting: () => Promise.resolve(failed(FULL)),
  };
  const keeper = createKeeper(
    desk,
    createSaveQueue({
      limit: 1000,
      onProblem: problem => {
        desk.run(complain, problem);
      },
    }),
    finder,
    () => library,
  );
  await keeper.openAtStart();
  return { desk, keeper, library, parents };
};
const lay = (desk: Desk): void => {
  const piece = pieceOf();
  // Under another name, so that no revision of it is known.
  desk.run(openEntry, { id: 'elsewhere', revision: 'r', piece });
  desk.run(step, 'title', old => ({ ...old, title: 'Bell' }));
};

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('keeping', () => {
  it('two presses of Keep before the first ends make one revision after the other, never two rivals', async () => {
    const { desk, keeper, library } = await keeperWith(() => new Promise(go => setTimeout(go, 50)));
    lay(desk);
    const first = keeper.keep();
    desk.run(step, 'title', old => ({ ...old, title: 'Bells' }));
    const second = keeper.keep();
    await vi.advanceTimersByTimeAsync(200);
    await Promise.all([first, second]);
    const shelf = await library.shelf();
    const [entry] = shelf.ok ? shelf.value.entries : [];
    expect([entry?.revisions, entry?.rivals, entry?.facts.title]).toEqual([1, [], 'Bells']);
  });

  it('what was kept already is not kept again', async () => {
    const { desk, keeper, parents } = await keeperWith();
    lay(desk);
    await keeper.keep();
    await keeper.keep();
    expect([parents.length, desk.isKept.value]).toEqual([1, true]);
    desk.run(step, 'title', old => ({ ...old, title: 'Other' }));
    expect(desk.isKept.value).toBe(false);
    await keeper.keep();
    expect(parents.length).toBe(2);
    // The second revision names the first as what it was made from.
    expect(parents[0]).toEqual([]);
    expect(parents[1]).toHaveLength(1);
    desk.run(undoStep);
    expect(desk.isKept.value).toBe(false);
  });

  it('a full disk is said, and the piece stays open and unkept', async () => {
    const { desk, keeper } = await keeperWith(undefined, () => ({
      save: () => Promise.resolve(failed(FULL)),
    }));
    lay(desk);
    await keeper.keep();
    expect([desk.problem.value, desk.isKept.value, desk.piece.value?.title]).toEqual([FULL, false, 'Bell']);
  });

  it('a folder that throws is said in a sentence', async () => {
    const { desk, keeper } = await keeperWith(undefined, () => ({
      save: () => Promise.reject(new Error('EIO')),
    }));
    lay(desk);
    await keeper.keep();
    expect(desk.problem.value).toMatchObject({ what: 'The piece could not be kept.', detail: 'EIO' });
  });

  it('a library that does not answer is said; a save that comes late is a save, and the queue goes on', async () => {
    let answer: (entry: Result<RegisterEntry>) => void = () => undefined;
    const { desk, keeper } = await keeperWith(undefined, () => ({
      save: () =>
        new Promise(go => {
          answer = go;
        }),
    }));
    lay(desk);
    const keeping = keeper.keep();
    await vi.advanceTimersByTimeAsync(1000);
    await keeping;
    expect([desk.problem.value?.what, desk.isKept.value]).toEqual([
      'The class library does not answer.',
      false,
    ]);
    const piece = desk.piece.value ?? pieceOf();
    answer(
      ok({
        id: piece.id,
        revision: 'late',
        savedAt: '',
        facts: factsOf(piece),
        revisions: 1,
        rivals: [],
        draft: false,
        keptAt: '',
        away: false,
      } satisfies RegisterEntry),
    );
    await vi.advanceTimersByTimeAsync(0);
    expect([desk.isKept.value, desk.now().document.revisions[piece.id]]).toEqual([true, 'late']);
  });

  it('stopped, what waits behind a save is given up', async () => {
    const done: string[] = [];
    const said: string[] = [];
    const saves = createSaveQueue({ limit: 1000, onProblem: p => said.push(p.what) });
    const one = saves.inTurn(
      () => new Promise<Result<string>>(() => undefined),
      x => done.push(x),
    );
    const two = saves.inTurn(
      () => Promise.resolve(ok('two')),
      x => done.push(x),
    );
    await vi.advanceTimersByTimeAsync(10);
    saves.stop();
    await Promise.all([one, two]);
    expect([done, said]).toEqual([[], ['The class library does not answer.']]);
    await saves.inTurn(
      () => Promise.resolve(ok('three')),
      x => done.push(x),
    );
    expect(done).toEqual(['three']);
    saves.dispose();
  });
});

describe('the library at start', () => {
  it('is opened and shown, with the folder that waits to be lent again', async () => {
    const { desk, keeper, library } = await keeperWith();
    expect(desk.library.value).toEqual({
      state: 'open',
      where: library.where,
      mayBeCleared: false,
      waitingFolder: 'USB',
      entries: [],
      classes: [],
      damaged: [],
    });
    await keeper.chooseFolder();
    expect([desk.problem.value, desk.library.value.waitingFolder]).toEqual([undefined, 'USB']);
    await keeper.openWaiting();
    expect(desk.problem.value).toBe(FULL);
  });

  it('a register that cannot be read says so', async () => {
    const { desk, keeper } = await keeperWith(undefined, () => ({
      shelf: () => Promise.resolve(failed(FULL)),
    }));
    expect([desk.library.value.state, desk.problem.value]).toEqual(['failed', FULL]);
    await keeper.refresh();
    expect(desk.library.value.state).toBe('failed');
  });
});

describe('the register', () => {
  it('is read anew once for all who asked while it was being read, and sees what came meanwhile', async () => {
    let reads = 0;
    let pause = 0;
    const { keeper, library, desk } = await keeperWith(undefined, real => ({
      shelf: async () => {
        reads += 1;
        const seen = await real.shelf();
        if (pause > 0) await new Promise(go => setTimeout(go, pause));
        return seen;
      },
    }));
    reads = 0;
    pause = 50;
    const first = keeper.refresh();
    await vi.advanceTimersByTimeAsync(10);
    await library.save({ ...pieceOf(), id: 'came-meanwhile' }, []);
    const asked = [keeper.refresh(), keeper.refresh(), keeper.refresh()];
    await vi.advanceTimersByTimeAsync(200);
    await Promise.all([first, ...asked]);
    expect(reads).toBe(2);
    expect(desk.library.value.entries.map(entry => entry.id)).toEqual(['came-meanwhile']);
  });

  it('gives the pieces seen last without a second look, and lets go of those seen long ago', async () => {
    const opened: string[] = [];
    const { keeper, library } = await keeperWith(undefined, real => ({
      open: (id, revision) => {
        opened.push(id);
        return real.open(id, revision);
      },
    }));
    const entries: RegisterEntry[] = [];
    for (let i = 0; i < 70; i++) {
      const saved = await library.save({ ...pieceOf(), id: `p${String(i)}` }, []);
      if (saved.ok) entries.push(saved.value);
    }
    for (const entry of entries) expect((await keeper.piece(entry))?.id).toBe(entry.id);
    expect(opened).toHaveLength(70);
    const [first, last] = [entries[0], entries.at(-1)];
    if (first === undefined || last === undefined) throw new Error('nothing saved');
    await keeper.piece(last);
    expect(opened).toHaveLength(70);
    await keeper.piece(first);
    expect(opened).toHaveLength(71);
  });
});
