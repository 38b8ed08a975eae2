import type { MenuItemConstructorOptions } from 'electron';
import { describe, expect, it } from 'vitest';
import type { Told } from '../../../core/bridge/host.ts';
import { FIRST_MENU, MENU_ACTS, type MenuState } from '../../../core/bridge/menu.ts';
import { menuOf } from '../../../electron/desktop/menu.ts';

type Item = MenuItemConstructorOptions;
const inside = (item: Item): readonly Item[] => (Array.isArray(item.submenu) ? item.submenu : []);
const allItems = (items: readonly Item[]): readonly Item[] =>
  items.flatMap(item => [item, ...allItems(inside(item))]);

const OPEN: MenuState = {
  undo: 'Canon',
  redo: 'Retrograde',
  hasPiece: true,
  isPupilView: false,
  recent: [
    { id: 'a', name: 'Tin roof, Heron' },
    { id: 'b', name: 'Salt & pepper, Otter' },
  ],
};

const made = (platform: string, state: MenuState) => {
  const told: Told[] = [];
  const here: string[] = [];
  const menu = menuOf(platform, state, {
    tell: each => told.push(each),
    openFile: () => here.push('open'),
    showLog: () => here.push('log'),
  });
  const items = allItems(menu);
  const find = (label: string): Item | undefined => items.find(item => item.label === label);
  const press = (label: string): void => {
    const found = find(label);
    if (found?.enabled !== false) (found?.click as (() => void) | undefined)?.();
  };
  return { menu, items, told, here, find, press };
};

describe.each(['darwin', 'win32', 'linux'])('the menu on %s', platform => {
  const { menu, items } = made(platform, OPEN);
  const roles = items.map(item => item.role);
  it("has the clipboard, zoom and a way out, each in its platform's place", () => {
    expect(roles).toEqual(
      expect.arrayContaining(['copy', 'paste', 'zoomIn', 'resetZoom', 'togglefullscreen', 'quit']),
    );
    // Apple's Human Interface Guidelines and Microsoft's: About and Quit are in the program's own menu on macOS.
    expect(menu.map(one => one.label)).toEqual([
      ...(platform === 'darwin' ? ['Malletloom'] : []),
      'File',
      'Edit',
      'View',
      'Window',
      'Help',
    ]);
    expect(roles.filter(role => role === 'quit')).toHaveLength(1);
    const home = menu.find(one => allItems([one]).some(item => item.label === 'About Malletloom'));
    expect(home?.label).toBe(platform === 'darwin' ? 'Malletloom' : 'Help');
  });
  it("leads nowhere else: no developer's tools, no reload, no undo of its own", () => {
    for (const role of ['toggleDevTools', 'reload', 'forceReload', 'undo', 'redo', 'about'])
      expect(roles).not.toContain(role);
  });
  it('reaches every act of the page, each once, and nothing twice by one key', () => {
    const { told, here, press, items: own } = made(platform, OPEN);
    for (const item of own) if (item.click !== undefined) press(item.label ?? '');
    const acts = told.flatMap(one => (one.kind === 'act' ? [one.act] : []));
    expect([...acts].sort()).toEqual([...MENU_ACTS].sort());
    expect(told.flatMap(one => (one.kind === 'open' ? [one.id] : []))).toEqual(['a', 'b']);
    expect(here).toEqual(['open', 'log']);
    const keys = own.flatMap(item => item.accelerator ?? []);
    expect(new Set(keys).size).toBe(keys.length);
  });
  it('only shows the keys that the page has itself', () => {
    const shown = items.filter(item => item.registerAccelerator === false).map(item => item.accelerator);
    expect(shown).toEqual(['Alt+N', 'CmdOrCtrl+Z', 'CmdOrCtrl+Shift+Z']);
  });
});

describe('what the menu says', () => {
  it('names the step that is taken back, and the one done again', () => {
    const { find, press, told } = made('win32', OPEN);
    expect(find('Undo: Canon')?.enabled).toBe(true);
    press('Redo: Retrograde');
    expect(told).toEqual([{ kind: 'act', act: 'redo' }]);
  });
  it('before anything was done: nothing to undo, keep, print, write, grow or open again', () => {
    const { find, press, told } = made('win32', FIRST_MENU);
    for (const label of [
      'Undo',
      'Redo',
      'Keep a version',
      'Print…',
      'Write',
      'Grow',
      'Projector view',
      'Open recent',
    ]) {
      expect(find(label)?.enabled, label).toBe(false);
      press(label);
    }
    expect(told).toEqual([]);
    expect(find('Play')?.enabled).not.toBe(false);
  });
  it('a name is a name: no letter of it is underlined, and a long one is cut', () => {
    const { items } = made('linux', {
      ...OPEN,
      undo: `A & B ${'very '.repeat(20)}long`,
      recent: OPEN.recent,
    });
    const labels = items.map(item => item.label ?? '');
    expect(labels).toContain('Salt && pepper, Otter');
    const undo = labels.find(label => label.startsWith('Undo'));
    expect(undo).toMatch(/^Undo: A && B very .*…$/);
    expect(Array.from(undo ?? '').length).toBeLessThanOrEqual(50);
  });
  it('in the pupil view there is only what the pupil view does', () => {
    const { told, here, items, press } = made('linux', { ...OPEN, isPupilView: true });
    for (const item of items) if (item.click !== undefined) press(item.label ?? '');
    expect(told).toEqual([
      { kind: 'act', act: 'keep' },
      { kind: 'act', act: 'undo' },
      { kind: 'act', act: 'redo' },
      { kind: 'act', act: 'about' },
    ]);
    expect(here).toEqual([]);
  });
});
