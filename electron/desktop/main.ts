import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { app, type BrowserWindow, dialog, ipcMain, Menu, protocol, session } from 'electron';
import { detailOf, failed, ok } from '../../core/foundation/result.ts';
import { SCHEME, START } from './appAddress.ts';
import { answerFromApp } from './appScheme.ts';
import { openChannels } from './ipc.ts';
import { readLocation, writeLocation } from './libraryLocation.ts';
import { menuOf } from './menu.ts';
import { nodeFolder } from './nodeFolder.ts';
import { beTheOnlyOne } from './oneInstance.ts';
import { reviveWhenGone } from './recovery.ts';
import { guardContents, guardPermissions } from './security.ts';
import { createWindow } from './window.ts';

// The desktop edition: joins Electron to the modules beside this one, and decides nothing itself.

const bundled = dirname(fileURLToPath(import.meta.url));
const rendererRoot = join(bundled, '..', 'renderer');

protocol.registerSchemesAsPrivileged([
  { scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
]);

const open: { window?: BrowserWindow } = {};

// Whatever contents are ever made, a window's, a frame's or a view's, are guarded from their first moment.
app.on('web-contents-created', (_, contents) => {
  guardContents(contents);
});

const start = async (): Promise<void> => {
  await app.whenReady();
  Menu.setApplicationMenu(Menu.buildFromTemplate(menuOf(process.platform)));
  guardPermissions(session.defaultSession);
  protocol.handle(SCHEME, request => answerFromApp(rendererRoot, request));

  const settingsFile = join(app.getPath('userData'), 'place.json');
  let folder = nodeFolder(readLocation(settingsFile, app.getPath('documents')));
  openChannels(ipcMain, {
    folder: () => folder,
    windowId: () => open.window?.webContents.id,
    chooseFolder: async () => {
      const options = { properties: ['openDirectory' as const, 'createDirectory' as const] };
      const { filePaths } = await (open.window === undefined
        ? dialog.showOpenDialog(options)
        : dialog.showOpenDialog(open.window, options));
      const [chosen] = filePaths;
      if (chosen === undefined) return ok(undefined);
      if (!writeLocation(settingsFile, chosen)) {
        return failed({
          kind: 'folder-refused',
          what: 'That folder cannot be used.',
          kept: 'The class library is where it was.',
          next: 'Choose another folder.',
        });
      }
      folder = nodeFolder(chosen);
      return ok(folder.where);
    },
  });
  // Known before the page loads, because the page asks for its folder while it does.
  open.window = createWindow(bundled);
  reviveWhenGone(open.window, START, reason => {
    dialog.showErrorBox(
      'The page of Malletloom ended again and again',
      `What was kept is untouched. Start Malletloom again; if that does not help, tell whoever looks after this computer: ${reason}`,
    );
  });
  await open.window.loadURL(START);
};

app.on('window-all-closed', () => {
  app.quit();
});
// Not awaited: Electron is ready only after this file has run to its end.
if (beTheOnlyOne(app, () => open.window)) {
  void start().catch((thrown: unknown) => {
    dialog.showErrorBox(
      'Malletloom could not start',
      `Nothing that was kept is touched. Start it again; if that does not help, tell whoever looks after this computer: ${detailOf(thrown)}`,
    );
    app.quit();
  });
}
