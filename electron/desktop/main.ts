import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { app, type BrowserWindow, dialog, ipcMain, Menu, protocol, screen, session, shell } from 'electron';
import { TOLD, type Told } from '../../core/bridge/host.ts';
import { FIRST_MENU, type MenuState } from '../../core/bridge/menu.ts';
import { detailOf, failed, ok } from '../../core/foundation/result.ts';
import { SCHEME, START } from './appAddress.ts';
import { answerFromApp } from './appScheme.ts';
import { createGivenFiles, filesAmong, OPENABLE } from './givenFiles.ts';
import { askWhenHanging } from './hanging.ts';
import { openChannels } from './ipc.ts';
import { readLocation, writeLocation } from './libraryLocation.ts';
import { createLog } from './log.ts';
import { menuOf } from './menu.ts';
import { nodeFolder } from './nodeFolder.ts';
import { beTheOnlyOne } from './oneInstance.ts';
import { reviveWhenGone } from './recovery.ts';
import { guardContents, guardPermissions } from './security.ts';
import { createWindow } from './window.ts';
import { placeFor, readWindowPlace } from './windowPlace.ts';

// The desktop edition: joins Electron to the modules beside this one, and decides nothing itself.

const bundled = dirname(fileURLToPath(import.meta.url));
const rendererRoot = join(bundled, '..', 'renderer');

protocol.registerSchemesAsPrivileged([
  { scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true, stream: true } },
]);

const open: { window?: BrowserWindow } = {};
const tell = (told: Told): void => {
  open.window?.webContents.send(TOLD, told);
};
const given = createGivenFiles(() => {
  tell({ kind: 'given' });
});
const logFile = join(app.getPath('userData'), 'log', 'malletloom.log');
const log = createLog(logFile, () => new Date().toISOString());

// Only noted: what Electron says of it to the teacher stays as it is.
process.on('uncaughtExceptionMonitor', (thrown: unknown) => {
  log.thrown('uncaught', thrown);
});

// Whatever contents are ever made, a window's, a frame's or a view's, are guarded from their first moment.
app.on('web-contents-created', (_, contents) => {
  guardContents(contents);
});
// macOS: a double click, and a file that is dropped on the icon; it may come before everything is ready.
app.on('open-file', (event, path) => {
  event.preventDefault();
  given.give([path]);
});

/** Asks in the system's own dialogue, which belongs to the window where there is one. */
const ask = async (options: Electron.OpenDialogOptions): Promise<readonly string[]> =>
  (
    await (open.window === undefined
      ? dialog.showOpenDialog(options)
      : dialog.showOpenDialog(open.window, options))
  ).filePaths;

const showMenu = (state: MenuState): void => {
  const template = menuOf(process.platform, state, {
    tell,
    openFile: () => {
      const filters = [{ name: 'Takes, recordings and portable files', extensions: [...OPENABLE] }];
      void ask({ properties: ['openFile'], filters }).then(given.give);
    },
    showLog: () => {
      shell.showItemInFolder(logFile);
    },
  });
  Menu.setApplicationMenu(Menu.buildFromTemplate(template));
};

const start = async (): Promise<void> => {
  await app.whenReady();
  log.note(`start ${app.getVersion()} on ${process.platform} ${process.arch}`);
  showMenu(FIRST_MENU);
  guardPermissions(session.defaultSession);
  protocol.handle(SCHEME, request => answerFromApp(rendererRoot, request));

  const settingsFile = join(app.getPath('userData'), 'place.json');
  let folder = nodeFolder(readLocation(settingsFile, app.getPath('documents')));
  openChannels(ipcMain, {
    folder: () => folder,
    windowId: () => open.window?.webContents.id,
    chooseFolder: async () => {
      const [chosen] = await ask({ properties: ['openDirectory', 'createDirectory'] });
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
    takeGiven: given.take,
    showMenu,
    noteProblem: kind => {
      log.note(`problem ${kind}`);
    },
  });
  const placeFile = join(app.getPath('userData'), 'window.json');
  const screens = [screen.getPrimaryDisplay(), ...screen.getAllDisplays()].map(display => display.workArea);
  // Known before the page loads, because the page asks for its folder while it does.
  const window = createWindow(bundled, placeFor(readWindowPlace(placeFile), screens), placeFile);
  open.window = window;
  window.webContents.on('render-process-gone', (_, { reason }) => {
    log.note(`page gone ${reason}`);
  });
  reviveWhenGone(window, START, reason => {
    dialog.showErrorBox(
      'The page of Malletloom ended again and again',
      `What was kept is untouched. Start Malletloom again; if that does not help, tell whoever looks after this computer: ${reason}`,
    );
  });
  askWhenHanging(window, async () => {
    log.note('page stands still');
    const { response } = await dialog.showMessageBox(window, {
      type: 'question',
      message: 'The page of Malletloom has stood still for some time.',
      detail:
        'Every step is on the disk. Opened again, it stands where it was; what it was just doing is lost.',
      buttons: ['Wait', 'Open the page again'],
      defaultId: 0,
      cancelId: 0,
    });
    return response === 1;
  });
  // What the program was started with; a start by hand gives the project's folder, which is no file to open.
  given.give(filesAmong(process.argv.slice(1), process.cwd()));
  await window.loadURL(START);
};

app.on('window-all-closed', () => {
  app.quit();
});
// Not awaited: Electron is ready only after this file has run to its end.
if (
  beTheOnlyOne(
    app,
    () => open.window,
    (args, from) => {
      given.give(filesAmong(args, from));
    },
  )
) {
  void start().catch((thrown: unknown) => {
    log.thrown('start', thrown);
    dialog.showErrorBox(
      'Malletloom could not start',
      `Nothing that was kept is touched. Start it again; if that does not help, tell whoever looks after this computer: ${detailOf(thrown)}`,
    );
    app.quit();
  });
}
