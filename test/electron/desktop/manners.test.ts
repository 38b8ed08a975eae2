import type { MenuItemConstructorOptions } from 'electron';
import { describe, expect, it } from 'vitest';
import { menuOf } from '../../../electron/desktop/menu.ts';
import { reviveWhenGone, MOST_RETURNS, type Recoverable } from '../../../electron/desktop/recovery.ts';

const itemsOf = (menu: MenuItemConstructorOptions): readonly MenuItemConstructorOptions[] =>
  Array.isArray(menu.submenu) ? menu.submenu : [];

describe.each(['darwin', 'win32', 'linux'])('the menu on %s', platform => {
  const roles = menuOf(platform).flatMap(menu => itemsOf(menu).map(item => item.role));
  it("has the clipboard, zoom and a way out, each in its platform's place", () => {
    expect(roles).toEqual(
      expect.arrayContaining(['copy', 'paste', 'zoomIn', 'resetZoom', 'togglefullscreen', 'quit']),
    );
    const [first] = menuOf(platform);
    expect(first?.label).toBe(platform === 'darwin' ? 'Malletloom' : 'File');
    expect(roles.filter(role => role === 'quit')).toHaveLength(1);
  });
  it("leads nowhere else: no developer's tools, no reload, no undo of its own, nothing that could open a page", () => {
    for (const role of ['toggleDevTools', 'reload', 'forceReload', 'undo', 'redo', 'help'])
      expect(roles).not.toContain(role);
    expect(
      menuOf(platform)
        .flatMap(itemsOf)
        .filter(item => item.click !== undefined),
    ).toEqual([]);
  });
});

describe('a page whose process is gone', () => {
  const dying = () => {
    const loaded: string[] = [];
    const given: string[] = [];
    const handlers: ((event: unknown, details: { reason: string }) => void)[] = [];
    const window: Recoverable = {
      webContents: { on: (_, handler) => handlers.push(handler) },
      loadURL: address => {
        loaded.push(address);
        return Promise.reject(new Error('it died while it loaded'));
      },
    };
    reviveWhenGone(window, 'app://malletloom/index.html', reason => given.push(reason));
    const die = (reason: string): void => {
      for (const handler of handlers) handler({}, { reason });
    };
    return { loaded, given, die };
  };
  it('comes back; one that was closed on purpose does not', () => {
    const { loaded, given, die } = dying();
    die('clean-exit');
    expect(loaded).toEqual([]);
    die('oom');
    expect([loaded, given]).toEqual([['app://malletloom/index.html'], []]);
  });
  it('is given up, and said so, when it dies again and again', () => {
    const { loaded, given, die } = dying();
    for (let i = 0; i <= MOST_RETURNS; i++) die('crashed');
    expect([loaded.length, given]).toEqual([MOST_RETURNS, ['crashed']]);
  });
});
