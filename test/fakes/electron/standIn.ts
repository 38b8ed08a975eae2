import { EventEmitter } from 'node:events';
import { readFileSync } from 'node:fs';
import type { BrowserContext, Frame, Page } from 'playwright/test';
import { itemsIn, type MenuItem } from './menuItems.ts';
import { type Listeners, preloadIn } from './preload.ts';
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

const SCREEN = { x: 0, y: 0, width: 1920, height: 1040 };
const pick = (options: object): object => {
  const { x, y, width, height } = options as Record<string, number | undefined>;
  return { ...(x === undefined ? {} : { x }), ...(y === undefined ? {} : { y }), width, height };
};

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
  const windowEvents = new EventEmitter();
  const bounds = { x: 0, y: 0, width: 0, height: 0, isMaximized: false };
  const windows: { readonly id: number; readonly options: object; page?: Page }[] = [];
  const seen = {
    quits: 0,
    errors: [] as string[],
    ended: 0,
    shown: [] as string[],
    asked: [] as object[],
    answered: [] as number[],
    refused: [] as string[],
    popups: [] as string[],
    granted: [] as string[],
  };
  const menus: MenuItem[][] = [];
  const chosen: { paths: string[]; answers: number[] } = { paths: [], answers: [] };

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
      Object.assign(bounds, { x: 10, y: 10 }, pick(options));
      windows.push(this.#window);
      this.webContents = {
        id: this.#window.id,
        on: (event: string, handler: (...told: never[]) => void) =>
          contentsEvents.on(event, handler as (...told: unknown[]) => void),
        setWindowOpenHandler: (open: () => { action: string }) => {
          handlers.open = open;
        },
        send: (channel: string, ...told: unknown[]) => {
          // Before its page is there nobody listens, as in Electron.
          void this.#window.page
            ?.evaluate(
              ([name, all]) => {
                const { standInListeners } = window as unknown as { standInListeners?: Listeners };
                standInListeners?.[name]?.({}, ...all);
              },
              [channel, told] as const,
            )
            .catch(() => undefined);
        },
        forcefullyCrashRenderer: () => {
          seen.ended += 1;
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
        windowEvents.emit('close');
        if (windows.every(window => window.page?.isClosed() !== false)) events.emit('window-all-closed');
      });
      await page.goto(url);
    }
    on(event: string, handler: (...told: never[]) => void): void {
      windowEvents.on(event, handler as (...told: unknown[]) => void);
    }
    maximize(): void {
      bounds.isMaximized = true;
    }
    isMaximized(): boolean {
      return bounds.isMaximized;
    }
    getNormalBounds(): object {
      const { isMaximized: _, ...rectangle } = bounds;
      return rectangle;
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
      getVersion: () => '0.0.0',
      quit: () => {
        seen.quits += 1;
      },
    },
    BrowserWindow,
    dialog: {
      showOpenDialog: (...given: object[]) => {
        seen.asked.push(given.at(-1) ?? {});
        return Promise.resolve({ canceled: chosen.paths.length === 0, filePaths: chosen.paths.splice(0) });
      },
      showMessageBox: () => {
        const response = chosen.answers.shift() ?? 0;
        seen.answered.push(response);
        return Promise.resolve({ response });
      },
      showErrorBox: (title: string, text: string) => seen.errors.push(`${title}: ${text}`),
    },
    ipcMain: { handle: (channel: string, answer: Answer) => channels.set(channel, answer) },
    Menu: {
      buildFromTemplate: (template: MenuItem[]) => template,
      setApplicationMenu: (menu: MenuItem[]) => menus.push(menu),
    },
    protocol: {
      registerSchemesAsPrivileged: () => undefined,
      handle: (_: string, handler: SchemeHandler) => {
        handlers.scheme = handler;
      },
    },
    screen: {
      getPrimaryDisplay: () => ({ workArea: SCREEN }),
      getAllDisplays: () => [{ workArea: SCREEN }],
    },
    shell: { showItemInFolder: (path: string) => seen.shown.push(path) },
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
    menus: menus as readonly (readonly MenuItem[])[],
    /** The folder or file the teacher chooses in the next dialogue. */
    chooseNext: (path: string): void => {
      chosen.paths = [path];
    },
    /** Presses what the menu has now. @returns false where there is no such item, or it is greyed out */
    press: (label: string): boolean => {
      const found = itemsIn(menus.at(-1) ?? []).find(item => item.label === label);
      if (found?.click === undefined || found.enabled === false) return false;
      found.click();
      return true;
    },
    /** Labels of what the menu has now and can be pressed. */
    pressable: (): readonly string[] =>
      itemsIn(menus.at(-1) ?? []).flatMap(item =>
        item.click === undefined || item.enabled === false ? [] : [item.label ?? ''],
      ),
    /** A second start with these arguments, from this folder, as Electron tells the first. */
    startAgain: (args: readonly string[], from: string): void => {
      events.emit('second-instance', {}, ['malletloom', ...args], from);
    },
    /** A double click on macOS. */
    openByFinder: (path: string): void => {
      events.emit('open-file', { preventDefault: () => undefined }, path);
    },
    /** The page has not answered for a while; what the teacher answers is a button's number. */
    hang: (answer: number): void => {
      chosen.answers = [answer];
      windowEvents.emit('unresponsive');
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
