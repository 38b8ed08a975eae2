import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  expect,
  type Page,
} from 'playwright/test';
import { ORIGIN } from '../../electron/desktop/appAddress.ts';
import { createStandIn, type StandIn } from '../fakes/electron/standIn.ts';
import { installFakeWebMidi } from '../fakes/webMidi.ts';

const project = fileURLToPath(new URL('../..', import.meta.url));

/**
 * Bundles the desktop edition as `npm start` does, the stand-in in the place of Electron; beside the built renderer,
 * where the main process looks for it. @returns its folder
 */
export const bundleDesktop = async (worker: number): Promise<string> => {
  const folder = join(project, 'dist', `standIn${String(worker)}`);
  const common = { bundle: true, platform: 'node', target: 'node20', absWorkingDir: project } as const;
  await build({
    ...common,
    entryPoints: ['electron/desktop/main.ts'],
    format: 'esm',
    alias: { electron: join(project, 'test/fakes/electron/module.ts') },
    outfile: join(folder, 'main.mjs'),
  });
  await build({
    ...common,
    entryPoints: ['electron/desktop/preload.ts'],
    format: 'cjs',
    external: ['electron'],
    outfile: join(folder, 'preload.cjs'),
  });
  return folder;
};

/** The desktop edition as it runs. */
export interface Running {
  readonly standIn: StandIn;
  readonly page: Page;
  /** Closes its window and ends it. */
  readonly quit: () => Promise<void>;
}

/** A computer of its own for each test: a folder for documents, one for the app's settings. */
export interface Computer {
  readonly documents: string;
  readonly userData: string;
  readonly start: () => Promise<Running>;
}

let starts = 0;

/**
 * Lends a computer with the desktop edition on it for as long as `use` takes, and takes it away again.
 * @param onContext told of each start's windows before any of them loads anything
 */
export const withComputer = async (
  { browser, bundled, options }: { browser: Browser; bundled: string; options: BrowserContextOptions },
  use: (computer: Computer) => Promise<void>,
  onContext: (context: BrowserContext) => Promise<void> = () => Promise.resolve(),
): Promise<void> => {
  const root = mkdtempSync(join(tmpdir(), 'malletloom-desktop-'));
  const wrong: string[] = [];
  const opened: { context: BrowserContext; standIn: StandIn }[] = [];
  const documents = join(root, 'Documents');
  const userData = join(root, 'settings');
  // Electron makes the folder of the settings itself.
  mkdirSync(userData);
  const start = async (): Promise<Running> => {
    const context = await browser.newContext(options);
    await context.addInitScript(installFakeWebMidi as () => void);
    await onContext(context);
    const machine = { context, userData, documents, preload: join(bundled, 'preload.cjs') };
    const standIn = await createStandIn(machine, ORIGIN);
    opened.push({ context, standIn });
    Object.assign(globalThis, { malletloomStandIn: standIn });
    const opens = context.waitForEvent('page');
    starts += 1;
    await import(`${pathToFileURL(join(bundled, 'main.mjs')).href}?start=${String(starts)}`);
    const page = await opens;
    page.on('pageerror', error => wrong.push(error.message));
    await expect(page.getByRole('navigation', { name: 'Places' })).toBeVisible();
    const quit = async (): Promise<void> => {
      await page.close();
      expect(standIn.seen.quits).toBe(1);
      await standIn.close();
      await context.close();
    };
    return { standIn, page, quit };
  };
  await use({ documents, userData, start });
  for (const { context, standIn } of opened) {
    await context.close();
    await standIn.close();
  }
  // Each start watches this process, which is no desktop program and goes on.
  process.removeAllListeners('uncaughtExceptionMonitor');
  rmSync(root, { recursive: true, force: true });
  expect(wrong).toEqual([]);
};
