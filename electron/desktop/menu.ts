import type { MenuItemConstructorOptions } from 'electron';

/**
 * The menu of the program, by each platform's conventions. Electron's own would bring links to the internet, the
 * developer's tools and a reload. Undo is left to the page, which undoes by name; the clipboard is in it because
 * macOS knows no clipboard keys without.
 * @param platform as Node's `process.platform`
 * @example
 * menuOf('linux').map(menu => menu.label) // => ['File', 'Edit', 'View', 'Window']
 */
export const menuOf = (platform: string): MenuItemConstructorOptions[] => [
  ...(platform === 'darwin'
    ? [
        {
          role: 'appMenu' as const,
          label: 'Malletloom',
          submenu: [
            { role: 'about' as const },
            { type: 'separator' as const },
            { role: 'hide' as const },
            { role: 'hideOthers' as const },
            { role: 'unhide' as const },
            { type: 'separator' as const },
            { role: 'quit' as const },
          ],
        },
      ]
    : []),
  { label: 'File', submenu: [platform === 'darwin' ? { role: 'close' } : { role: 'quit' }] },
  {
    label: 'Edit',
    submenu: [{ role: 'cut' }, { role: 'copy' }, { role: 'paste' }, { role: 'selectAll' }],
  },
  {
    label: 'View',
    submenu: [
      { role: 'zoomIn' },
      { role: 'zoomOut' },
      { role: 'resetZoom' },
      { type: 'separator' },
      { role: 'togglefullscreen' },
    ],
  },
  { label: 'Window', submenu: [{ role: 'minimize' }, { role: 'zoom' }] },
];
