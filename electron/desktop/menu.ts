import type { MenuItemConstructorOptions } from 'electron';
import type { Told } from '../../core/bridge/host.ts';
import type { MenuAct, MenuState } from '../../core/bridge/menu.ts';

/** What the menu leads to. */
export interface MenuChoices {
  /** Something the page does. */
  readonly tell: (told: Told) => void;
  /** Asks for a file in the system's own dialogue. */
  readonly openFile: () => void;
  /** Shows the log in its folder. */
  readonly showLog: () => void;
}

type Item = MenuItemConstructorOptions;
const LINE: Item = { type: 'separator' };

/** In a menu `&` underlines the next letter; two of them are one. Long names are cut: a menu is no page. */
const inMenu = (words: string): string => {
  const letters = Array.from(words);
  const short = letters.length > 48 ? `${letters.slice(0, 47).join('').trimEnd()}…` : words;
  return short.replaceAll('&', '&&');
};

/**
 * The menu of the program, by each platform's conventions. Electron's own would bring links to the internet, the
 * developer's tools and a reload. The clipboard is in it because macOS knows no clipboard keys without.
 * @param platform as Node's `process.platform`
 * @example
 * const nothing = { tell: () => undefined, openFile: () => undefined, showLog: () => undefined };
 * menuOf('linux', FIRST_MENU, nothing).map(menu => menu.label) // => ['File', 'Edit', 'View', 'Window', 'Help']
 */
export const menuOf = (platform: string, state: MenuState, choices: MenuChoices): Item[] => {
  const isMac = platform === 'darwin';
  const act = (label: string, does: MenuAct, more: Item = {}): Item => ({
    label,
    click: () => {
      choices.tell({ kind: 'act', act: does });
    },
    ...more,
  });
  // The page has these keys itself; where the menu may only show them it does (macOS gives the page the first go).
  const shown = (accelerator: string): Item => ({ accelerator, registerAccelerator: false });
  const teacher = (items: readonly Item[]): readonly Item[] => (state.isPupilView ? [] : items);
  const about = act('About Malletloom', 'about');
  const leave: Item = isMac ? { role: 'close' } : { role: 'quit' };

  const recent: Item = {
    label: 'Open recent',
    enabled: state.recent.length > 0,
    submenu: state.recent.map(({ id, name }) => ({
      label: inMenu(name),
      click: () => {
        choices.tell({ kind: 'open', id });
      },
    })),
  };
  const file: readonly Item[] = [
    ...teacher([
      { label: 'Open a file…', accelerator: 'CmdOrCtrl+O', click: choices.openFile },
      recent,
      LINE,
    ]),
    act('Keep a version', 'keep', { accelerator: 'CmdOrCtrl+S', enabled: state.hasPiece }),
    ...teacher([
      act('Print…', 'print', { accelerator: 'CmdOrCtrl+P', enabled: state.hasPiece }),
      LINE,
      act('Next pupil', 'next-pupil', shown('Alt+N')),
    ]),
    LINE,
    leave,
  ];
  const edit: readonly Item[] = [
    act(state.undo === undefined ? 'Undo' : inMenu(`Undo: ${state.undo}`), 'undo', {
      ...shown('CmdOrCtrl+Z'),
      enabled: state.undo !== undefined,
    }),
    act(state.redo === undefined ? 'Redo' : inMenu(`Redo: ${state.redo}`), 'redo', {
      ...shown('CmdOrCtrl+Shift+Z'),
      enabled: state.redo !== undefined,
    }),
    LINE,
    { role: 'cut' },
    { role: 'copy' },
    { role: 'paste' },
    { role: 'selectAll' },
  ];
  const view: readonly Item[] = [
    ...teacher([
      act('Play', 'play'),
      act('Write', 'write', { enabled: state.hasPiece }),
      act('Grow', 'grow', { enabled: state.hasPiece }),
      act('Keep', 'register'),
      LINE,
      act('Projector view', 'projector', { enabled: state.hasPiece }),
      LINE,
    ]),
    { role: 'zoomIn' },
    { role: 'zoomOut' },
    { role: 'resetZoom' },
    LINE,
    { role: 'togglefullscreen' },
  ];
  const help: readonly Item[] = [
    ...teacher([
      act('Help, keys and settings', 'help'),
      { label: 'Show the log in its folder', click: choices.showLog },
    ]),
    ...(isMac ? [] : [about]),
  ];
  return [
    ...(isMac
      ? [
          {
            role: 'appMenu' as const,
            label: 'Malletloom',
            submenu: [
              about,
              LINE,
              { role: 'hide' as const },
              { role: 'hideOthers' as const },
              { role: 'unhide' as const },
              LINE,
              { role: 'quit' as const },
            ],
          },
        ]
      : []),
    { label: 'File', submenu: [...file] },
    { label: 'Edit', submenu: [...edit] },
    { label: 'View', submenu: [...view] },
    { label: 'Window', submenu: [{ role: 'minimize' }, { role: 'zoom' }] },
    ...(help.length === 0 ? [] : [{ label: 'Help', role: 'help' as const, submenu: [...help] }]),
  ];
};
