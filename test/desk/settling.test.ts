import { describe, expect, it } from 'vitest';
import { ok } from '../../core/foundation/result.ts';
import { memoryFolder } from '../../core/library/memoryFolder.ts';
import { openLibrary } from '../../core/library/openLibrary.ts';
import { createKeeper } from '../../renderer/desk/acts/keeper.ts';
import { watchOutbox } from '../../renderer/desk/acts/shelving.ts';
import { complain } from '../../renderer/desk/commands/messages.ts';
import { bringBack, openEntry } from '../../renderer/desk/commands/open.ts';
import { nextPupil } from '../../renderer/desk/commands/pupils.ts';
import { step, undoStep } from '../../renderer/desk/commands/step.ts';
import { createDesk, type Desk } from '../../renderer/desk/desk.ts';
import { createSaveQueue } from '../../renderer/desk/saveQueue.ts';
import { countingTools } from '../library/pieces.ts';
import { pieceOf } from './pieces.ts';

/** A desk and its keeper on one machine; several share the files, as synced folders do. */
const machine = async (files: Map<string, Uint8Array>, prefix: string) => {
  const desk = createDesk();
  const folder = memoryFolder(files);
  const saves = createSaveQueue({
    limit: 1000,
    onProblem: problem => {
      desk.run(complain, problem);
    },
  });
  const keeper = createKeeper(
    desk,
    saves,
    {
      atStart: () => Promise.resolve({ folder, waiting: undefined, problem: undefined }),
      canChoose: () => false,
      choose: () => Promise.resolve(ok(undefined)),
      openWaiting: () => Promise.resolve(ok(undefined)),
    },
    given => openLibrary(given, countingTools(0, prefix)),
  );
  await keeper.openAtStart();
  const entry = () => {
    const [first] = desk.library.value.entries;
    if (first === undefined) throw new Error('nothing in the register');
    return first;
  };
  return { desk, keeper, entry };
};
const titled = (desk: Desk, title: string): void => {
  desk.run(step, 'title', old => ({ ...old, title }));
};

/** One piece, changed on two machines from the same version. */
const rivals = async () => {
  const files = new Map<string, Uint8Array>();
  const one = await machine(files, 'a');
  const piece = pieceOf();
  one.desk.run(openEntry, { id: piece.id, revision: 'unknown-yet', piece, draft: true });
  await one.keeper.keep();
  await one.keeper.refresh();
  const two = await machine(files, 'b');
  await two.keeper.open(two.entry());
  titled(one.desk, 'Bell');
  titled(two.desk, 'Gong');
  await one.keeper.keep();
  await two.keeper.keep();
  await two.keeper.refresh();
  return { files, one, two };
};

describe('two newest versions', () => {
  it('one kept: the mark goes away on both machines, and the other stays among the versions', async () => {
    const { one, two } = await rivals();
    expect(two.entry().rivals).toHaveLength(1);
    const all = await two.keeper.versions(two.entry().id);
    const bell = all.find(saved => saved.piece.title === 'Bell');
    if (bell === undefined) throw new Error('no such version');
    expect(await two.keeper.settle(two.entry(), bell.piece, 'Settled.')).toBe(true);
    await two.keeper.refresh();
    await one.keeper.refresh();
    for (const { entry } of [one, two])
      expect([entry().facts.title, entry().rivals, entry().revisions]).toEqual(['Bell', [], 4]);
    const newest = (await two.keeper.versions(two.entry().id))[0];
    expect(newest?.parents).toHaveLength(2);
  });

  it('both kept: each is an item of its own', async () => {
    const { two } = await rivals();
    const entry = two.entry();
    const heads = (await two.keeper.versions(entry.id)).filter(saved =>
      [entry.revision, ...entry.rivals].includes(saved.revision),
    );
    const other = heads.find(saved => saved.revision !== entry.revision);
    if (other === undefined) throw new Error('no rival');
    expect(await two.keeper.keepBeside({ ...other.piece, id: 'beside' })).toBe(true);
    const newest = heads.find(saved => saved.revision === entry.revision);
    if (newest === undefined) throw new Error('no newest');
    expect(await two.keeper.settle(entry, newest.piece, 'Both.')).toBe(true);
    await two.keeper.refresh();
    const { entries } = two.desk.library.value;
    expect(entries.map(e => [e.facts.title, e.rivals.length]).sort()).toEqual([
      ['Bell', 0],
      ['Gong', 0],
    ]);
  });
});

describe('versions', () => {
  it('one brought back is a step on the open piece; the pupil it was given to since keeps it', async () => {
    const { two } = await rivals();
    const all = await two.keeper.versions(two.entry().id);
    const first = all.at(-1);
    if (first === undefined) throw new Error('no version');
    two.desk.run(step, 'given', old => ({ ...old, codeName: 'Lynx' }));
    two.desk.run(bringBack, { ...two.entry(), piece: first.piece }, first.piece);
    expect([two.desk.piece.value?.title, two.desk.piece.value?.codeName]).toEqual(['Idea', 'Lynx']);
    two.desk.run(undoStep);
    expect(two.desk.piece.value?.title).toBe('Gong');
  });
});

describe('drafts and what is put away', () => {
  it('what left the desk is in the register as a draft, made from the version before', async () => {
    const { files, two } = await rivals();
    watchOutbox(two.desk, two.keeper);
    const before = files.size;
    titled(two.desk, 'Chime');
    two.desk.run(nextPupil);
    await expect.poll(() => two.desk.outbox.value.length).toBe(0);
    await two.keeper.refresh();
    const [draft] = await two.keeper.versions(two.entry().id);
    expect([files.size - before, draft?.draft, draft?.piece.title, draft?.parents.length]).toEqual([
      1,
      true,
      'Chime',
      1,
    ]);
  });

  it('a version kept just before the next pupil is a version, not a draft', async () => {
    const { two } = await rivals();
    watchOutbox(two.desk, two.keeper);
    titled(two.desk, 'Chime');
    const keeping = two.keeper.keep();
    two.desk.run(nextPupil);
    await keeping;
    await expect.poll(() => two.desk.outbox.value.length).toBe(0);
    const [newest] = await two.keeper.versions(two.entry().id);
    expect([newest?.piece.title, newest?.draft]).toEqual(['Chime', undefined]);
  });

  it('putting away and bringing back destroys nothing', async () => {
    const { files, two } = await rivals();
    const before = files.size;
    await two.keeper.putAway(two.entry(), true);
    await two.keeper.refresh();
    expect([two.entry().away, two.desk.rows.value[0]?.state]).toEqual([true, 'away']);
    await two.keeper.putAway(two.entry(), false);
    await two.keeper.refresh();
    expect([two.entry().away, files.size - before]).toEqual([false, 2]);
  });

  it('a class list is kept, and the next change is made from it', async () => {
    const files = new Map<string, Uint8Array>();
    const { desk, keeper } = await machine(files, 'a');
    const list = { id: 'class-1', name: '8K', pupils: ['Otter'], groups: [] };
    expect(await keeper.keepClass(list)).toBe(true);
    expect(await keeper.keepClass({ ...list, pupils: ['Otter', 'Heron'] })).toBe(true);
    await keeper.refresh();
    expect(desk.library.value.classes.map(c => [c.list.pupils, c.heads.length])).toEqual([
      [['Otter', 'Heron'], 1],
    ]);
  });
});
