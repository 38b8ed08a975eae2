import { EventEmitter } from 'node:events';
import { readFileSync } from 'node:fs';
import type { BrowserContext, Frame, Page } from 'playwright/test';
import { type SchemeHandler, type SchemeServer, serveScheme } from './requests.ts';

/** What the desktop edition is started on: a browser to open its windows in, and folders of its own. */
export interface Machine {
  readonly context: BrowserContext;
  readonly userData: string;
  readonly documents: string;
  /** The bundled preload. */
  readonly preload: string;
}

type Answer = (event: unknown, ...args: unknown[]) => Promise<unknown>;
type Ask = (
  contents: unknown,
  permission: string,
  answer: (granted: boolean) => void,
  details: object,
) => void;
type Refusable = { readonly preventDefault: () => void };

/** How Electron names what Playwright can grant: its name, what is asked for, and Playwright's name. */
const GRANTS = [
  ['midi', {}, 'midi'],
  ['media', { mediaTypes: ['audio'] }, 'microphone'],
  ['media', { mediaTypes: ['video'] }, 'camera'],
  ['geolocation', {}, 'geolocation'],
  ['notifications', {}, 'notifications'],
] as const;

/** Runs in the page before anything else, as a preload does; the bridge is all that it gives the page. */
const preloadIn = (code: string): string => `(() => {
  if (window.top !== window) return;
  const electron = {
    contextBridge: { exposeInMainWorld: (name, api) => { window[name] = Object.freeze(api); } },
    ipcRenderer: { invoke: (channel, ...args) => window.standInInvoke(channel, ...args) },
  };
  const require = () => electron;
  ${code}
})()`;

/**
 * As much of Electron as the desktop edition uses, with pages of a real Chromium as its windows. It carries
 * the app's scheme, the bridge, permissions, navigation and dialogs; what is Electron's own doing (process
 * isolation, fuses, native menus) it cannot show.
 */
export const createStandIn = async (machine: Machine, origin: string) => {
  const { context } = machine;
  const handlers: { scheme?: SchemeHandler; ask?: Ask; open?: () => { action: string } } = {};
  const channels = new Map<string, Answer>();
  const contentsEvents = new EventEmitter();
  const events = new EventEmitter();
  const windows: { readonly id: number; readonly options: object; page?: Page }[] = [];
  const seen = {
    quits: 0,
    errors: [] as string[],
    refused: [] as string[],
    popups: [] as string[],
    granted: [] as string[],
  };
  const menus: object[] = [];
  const chosen: { folders: string[] } = { folders: [] };

  const scheme: SchemeServer = await serveScheme(origin, () => {
    if (handlers.scheme === undefined) throw new Error('nothing handles the scheme');
    return handlers.scheme;
  });
  const asElectronSays = (url: string): string => url.replace(scheme.address, origin);

  await context.exposeBinding(
    'standInInvoke',
    async (source: { page: Page; frame: Frame }, channel: string, ...args: unknown[]) => {
      const id = windows.find(window => window.page === source.page)?.id ?? -1;
      const { frame } = source;
      const senderFrame = { url: asElectronSays(frame.url()), parent: frame.parentFrame() };
      const answer = channels.get(channel);
      if (answer === undefined) throw new Error(`no handler for ${channel}`);
      return answer({ sender: { id }, senderFrame }, ...args);
    },
  );
  await context.addInitScript(preloadIn(readFileSync(machine.preload, 'utf8')));
  await context.route(
    url => !url.href.startsWith(scheme.address),
    async route => {
      const request = route.request();
      if (request.isNavigationRequest()) {
        const tried = { isRefused: false };
        const attempted: Refusable = {
          preventDefault: () => {
            tried.isRefused = true;
          },
        };
        contentsEvents.emit(
          request.frame().parentFrame() ? 'will-frame-navigate' : 'will-navigate',
          attempted,
        );
        if (!tried.isRefused) return route.continue();
        seen.refused.push(request.url());
        // A navigation that is refused leaves the page as it is: no content does so in a browser.
        return route.fulfill({ status: 204 });
      }
      seen.refused.push(request.url());
      return route.abort();
    },
  );

  class BrowserWindow {
    readonly webContents;
    readonly #window: (typeof windows)[number];
    constructor(options: object) {
      this.#window = { id: windows.length + 1, options };
      windows.push(this.#window);
      this.webContents = {
        id: this.#window.id,
        on: (event: string, handler: (...told: never[]) => void) =>
          contentsEvents.on(event, handler as (...told: unknown[]) => void),
        setWindowOpenHandler: (open: () => { action: string }) => {
          handlers.open = open;
        },
      };
      events.emit('web-contents-created', {}, this.webContents);
    }
    async loadURL(address: string): Promise<void> {
      for (const [permission, details, name] of GRANTS) {
        handlers.ask?.(undefined, permission, granted => granted && seen.granted.push(name), {
          requestingUrl: address,
          ...details,
        });
      }
      await context.grantPermissions(seen.granted, { origin: scheme.address });
      const url = address.replace(origin, scheme.address);
      if (this.#window.page !== undefined) {
        await this.#window.page.goto(url);
        return;
      }
      const page = await context.newPage();
      this.#window.page = page;
      page.on('popup', popup => {
        const answer = handlers.open?.().action ?? 'allow';
        seen.popups.push(answer);
        if (answer !== 'allow') void popup.close();
      });
      page.on('close', () => {
        if (windows.every(window => window.page?.isClosed() !== false)) events.emit('window-all-closed');
      });
      await page.goto(url);
    }
    isMinimized(): boolean {
      return false;
    }
    restore(): void {
      void this.#window.page?.bringToFront();
    }
    focus(): void {
      void this.#window.page?.bringToFront();
    }
  }

  const electron = {
    app: {
      on: (event: string, handler: (...args: unknown[]) => void) => events.on(event, handler),
      whenReady: () => Promise.resolve(),
      getPath: (name: string) => (name === 'documents' ? machine.documents : machine.userData),
      requestSingleInstanceLock: () => true,
      quit: () => {
        seen.quits += 1;
      },
    },
    BrowserWindow,
    dialog: {
      showOpenDialog: () =>
        Promise.resolve({ canceled: chosen.folders.length === 0, filePaths: chosen.folders.splice(0) }),
      showErrorBox: (title: string, text: string) => seen.errors.push(`${title}: ${text}`),
    },
    ipcMain: { handle: (channel: string, answer: Answer) => channels.set(channel, answer) },
    Menu: {
      buildFromTemplate: (template: object) => template,
      setApplicationMenu: (menu: object) => menus.push(menu),
    },
    protocol: {
      registerSchemesAsPrivileged: () => undefined,
      handle: (_: string, handler: SchemeHandler) => {
        handlers.scheme = handler;
      },
    },
    session: {
      defaultSession: {
        setPermissionRequestHandler: (ask: Ask) => {
          handlers.ask = ask;
        },
        setPermissionCheckHandler: () => undefined,
      },
    },
  };

  return {
    electron,
    /** What the app did that can be seen from outside. */
    seen: seen as Readonly<typeof seen>,
    windows: windows as readonly (typeof windows)[number][],
    /** Menus that were set, as their templates. */
    menus: menus as readonly object[],
    /** What the teacher chooses in the next folder dialog. */
    chooseNext: (folder: string): void => {
      chosen.folders = [folder];
    },
    /** The page's process dies, as Electron would tell it. */
    crash: async (reason: string): Promise<void> => {
      await windows[0]?.page?.goto('about:blank');
      contentsEvents.emit('render-process-gone', {}, { reason });
    },
    close: () => scheme.close(),
  };
};

export type StandIn = Awaited<ReturnType<typeof createStandIn>>;
