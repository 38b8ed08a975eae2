// @vitest-environment happy-dom
import { describe, expect, it } from 'vitest';
import type { GivenFile, Host, Told } from '../../../core/bridge/host.ts';
import type { MenuState } from '../../../core/bridge/menu.ts';
import { failed, ok, type Result } from '../../../core/foundation/result.ts';
import type { RegisterEntry } from '../../../core/library/library.ts';
import { followHost } from '../../../renderer/desk/acts/hostMenu.ts';
import { windowTitle } from '../../../renderer/desk/acts/windowTitle.ts';
import type { AppParts } from '../../../renderer/desk/appParts.ts';
import { setLibrary } from '../../../renderer/desk/commands/keeping.ts';
import { complain } from '../../../renderer/desk/commands/messages.ts';
import { goTo, showPupilView } from '../../../renderer/desk/commands/settings.ts';
import { step, undoStep } from '../../../renderer/desk/commands/step.ts';
import { deskWithPiece } from '../fixtures.ts';

const entry = (id: string, savedAt: string, away = false): RegisterEntry => ({
  id,
  revision: `${id}-r`,
  savedAt,
  revisions: 1,
  rivals: [],
  draft: false,
  keptAt: savedAt,
  away,
  facts: {
    title: `T${id}`,
    codeName: id === 'none' ? '' : 'Heron',
    className: '',
    grown: false,
    treatments: [],
    hasFeedback: false,
    playings: 0,
    metres: ['4/4'],
    key: 'C',
    outline: { contour: '', gaps: [] },
  },
});

/** The desk with a piece on it, followed by a desktop that notes what it is told. */
const followed = async (waiting: Result<GivenFile | undefined>[] = []) => {
  const { desk, asking } = await deskWithPiece();
  const menus: MenuState[] = [];
  const noted: string[] = [];
  const opened: string[] = [];
  let tell: (told: Told) => void = () => undefined;
  let asked = 0;
  const host = {
    takeGiven: () => {
      asked += 1;
      return Promise.resolve(
        waiting.length > 1 ? (waiting.shift() ?? ok(undefined)) : (waiting[0] ?? ok(undefined)),
      );
    },
    showMenu: (state: MenuState) => {
      menus.push(state);
      return Promise.resolve(ok(undefined));
    },
    noteProblem: (kind: string) => {
      noted.push(kind);
      return Promise.resolve(ok(undefined));
    },
    onTold: (listener: (told: Told) => void) => {
      tell = listener;
    },
  } as unknown as Host;
  const app = {
    desk,
    asking,
    opening: { file: (file: File) => Promise.resolve(opened.push(`take ${file.name} ${String(file.size)}`)) },
    carrying: { bringIn: (file: File) => Promise.resolve(opened.push(`portable ${file.name}`)) },
    keeper: { open: (one: RegisterEntry) => Promise.resolve(opened.push(`piece ${one.id}`)) },
  } as unknown as AppParts;
  const stop = followHost(app, host);
  const quiet = async (): Promise<void> => {
    for (let i = 0; i < 20; i++) await Promise.resolve();
  };
  await quiet();
  return {
    desk,
    menus,
    noted,
    opened,
    asked: () => asked,
    tell: (told: Told) => {
      tell(told);
    },
    quiet,
    stop,
  };
};

describe('the menu follows the desk', () => {
  it('names the last step, and offers what was saved last, newest first, but not what is open or put away', async () => {
    const { desk, menus, stop } = await followed();
    expect(menus.at(-1)).toMatchObject({ hasPiece: true, isPupilView: false, recent: [] });
    const days = Array.from({ length: 12 }, (_, i) =>
      entry(`p${String(i)}`, `2026-01-${String(10 + ((i * 5) % 12))}`),
    );
    const entries = [
      ...days,
      entry('piece-1', '2026-03-01'),
      entry('away', '2026-03-02', true),
      entry('none', '2026-02-01'),
    ];
    desk.run(setLibrary, { entries });
    const recent = menus.at(-1)?.recent ?? [];
    const byDay = [...days].sort((a, b) => b.savedAt.localeCompare(a.savedAt)).slice(0, 7);
    expect(recent).toEqual([
      { id: 'none', name: 'Tnone' },
      ...byDay.map(({ id }) => ({ id, name: `T${id}, Heron` })),
    ]);
    stop();
  });

  it('keeps names as long as a menu bears: those of pieces, and of steps that can be undone and done again', async () => {
    const { desk, menus, stop } = await followed();
    const long = 'Bell '.repeat(400);
    const one = entry('long', '2026-01-01');
    desk.run(setLibrary, { entries: [{ ...one, facts: { ...one.facts, title: long } }] });
    desk.run(step, long, old => ({ ...old, title: 'Bell' }));
    const cut = `${long.slice(0, 79)}…`;
    expect(menus.at(-1)).toMatchObject({ undo: cut, recent: [{ id: 'long', name: cut }] });
    desk.run(undoStep);
    expect(menus.at(-1)?.redo).toBe(cut);
    stop();
  });

  it('is told once for each change, and no more after it was stopped', async () => {
    const { desk, menus, stop } = await followed();
    const before = menus.length;
    desk.run(goTo, 'keep');
    expect(menus).toHaveLength(before);
    desk.run(showPupilView, true);
    expect(menus.slice(before).map(menu => menu.isPupilView)).toEqual([true]);
    stop();
    desk.run(showPupilView, false);
    expect(menus).toHaveLength(before + 1);
  });
});

describe('what is chosen in the menu', () => {
  it('first leaves the field that is written in, but to undo in it', async () => {
    const { tell, stop } = await followed();
    const field = document.createElement('input');
    document.body.append(field);
    Object.assign(document, { execCommand: () => true });
    for (const [act, stays] of [
      ['undo', true],
      ['help', false],
      ['next-pupil', false],
      ['write', false],
    ] as const) {
      field.focus();
      tell({ kind: 'act', act });
      expect([act, document.activeElement === field]).toEqual([act, stays]);
    }
    field.remove();
    stop();
  });

  it('goes to places, opens, and does nothing that is not there any more', async () => {
    const { desk, tell, opened, quiet, stop } = await followed();
    tell({ kind: 'act', act: 'register' });
    expect(desk.view.value).toBe('keep');
    tell({ kind: 'act', act: 'projector' });
    expect([desk.view.value, desk.window.value]).toEqual(['write', 'projector']);
    tell({ kind: 'act', act: 'help' });
    expect(desk.window.value).toBe('keys');
    tell({ kind: 'act', act: 'about' });
    expect(desk.window.value).toBe('about');
    tell({ kind: 'act', act: 'play' });
    expect([desk.view.value, desk.window.value]).toEqual(['play', undefined]);
    desk.run(setLibrary, { entries: [entry('a', '2026-01-01')] });
    tell({ kind: 'open', id: 'a' });
    tell({ kind: 'open', id: 'gone' });
    await quiet();
    expect(opened).toEqual(['piece a']);
    stop();
  });
});

describe('files that were given', () => {
  it('are opened in turn, each by its kind; one that is no good is told and hides none', async () => {
    const problem = {
      kind: 'not-found',
      what: 'b.mid could not be read.',
      kept: 'All.',
      next: 'Try again.',
    } as const;
    const { desk, opened, noted, stop } = await followed([
      ok({ name: 'a.mid', bytes: new Uint8Array([1, 2, 3]) }),
      failed(problem),
      ok({ name: 'c.malletloom', bytes: new Uint8Array([1]) }),
      ok(undefined),
    ]);
    expect(opened).toEqual(['take a.mid 3', 'portable c.malletloom']);
    expect(desk.problem.value).toEqual(problem);
    expect(noted).toEqual(['not-found']);
    stop();
  });

  it('a bridge that refuses is asked no more', async () => {
    const problem = { kind: 'bad-request', what: 'No.', kept: 'All.', next: 'Stop.' } as const;
    const { asked, stop } = await followed([failed(problem)]);
    expect(asked()).toBe(1);
    stop();
  });
});

it('only the kind of a problem goes into the log, each time there is one', async () => {
  const { desk, noted, stop } = await followed();
  desk.run(complain, {
    kind: 'too-large',
    what: 'Heron’s file is too large.',
    kept: 'All.',
    next: 'Cut it.',
  });
  expect(noted).toEqual(['too-large']);
  stop();
});

it.each([
  [undefined, 'Malletloom'],
  [{ title: 'Tin roof', codeName: 'Heron' }, 'Tin roof, Heron – Malletloom'],
  [{ title: 'Tin roof', codeName: '' }, 'Tin roof – Malletloom'],
  [{ title: '', codeName: '' }, 'Malletloom'],
])('the title of %j is %s', (piece, title) => {
  expect(windowTitle(piece)).toBe(title);
});
