import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { type BrowserContext, expect, type Page, test as base } from 'playwright/test';
import { ORIGIN } from '../../electron/desktop/appAddress.ts';
import { createStandIn, type StandIn } from '../fakes/electron/standIn.ts';
import { installFakeWebMidi } from '../fakes/webMidi.ts';

const project = fileURLToPath(new URL('../..', import.meta.url));

/** Bundles the desktop edition as `npm start` does, the stand-in in the place of Electron. */
const bundle = async (folder: string): Promise<void> => {
  const common = { bundle: true, platform: 'node', target: 'node20', absWorkingDir: project } as const;
  const standIn = join(project, 'test/fakes/electron/module.ts');
  await build({
    ...common,
    entryPoints: ['electron/desktop/main.ts'],
    format: 'esm',
    alias: { electron: standIn },
    outfile: join(folder, 'main.mjs'),
  });
  await build({
    ...common,
    entryPoints: ['electron/desktop/preload.ts'],
    format: 'cjs',
    external: ['electron'],
    outfile: join(folder, 'preload.cjs'),
  });
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

export const test = base.extend<{ computer: Computer }, { bundled: string }>({
  bundled: [
    async ({}, use, worker) => {
      // Beside the built renderer, where the main process looks for it.
      const folder = join(project, 'dist', `standIn${String(worker.workerIndex)}`);
      await bundle(folder);
      await use(folder);
      rmSync(folder, { recursive: true, force: true });
    },
    { scope: 'worker' },
  ],
  computer: async ({ browser, bundled, contextOptions }, use) => {
    const root = mkdtempSync(join(tmpdir(), 'malletloom-desktop-'));
    const wrong: string[] = [];
    const opened: { context: BrowserContext; standIn: StandIn }[] = [];
    const documents = join(root, 'Documents');
    const userData = join(root, 'settings');
    // Electron makes the folder of the settings itself.
    mkdirSync(userData);
    const start = async (): Promise<Running> => {
      const context = await browser.newContext(contextOptions);
      await context.addInitScript(installFakeWebMidi as () => void);
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
    rmSync(root, { recursive: true, force: true });
    expect(wrong).toEqual([]);
  },
});
export { expect };
