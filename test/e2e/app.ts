import { rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, type Page, test as base } from 'playwright/test';
import { serve } from '../../electron/loopback/server.ts';
import { bundleDesktop, withComputer } from './computer.ts';
import { whyNotHere, withRealElectron } from './realElectron.ts';
import { type FakeMidi, installFakeWebMidi } from '../fakes/webMidi.ts';

/** Lets a page start without the first steps, which stand over the foot until they are done. */
export const knowsTheWay = (): void => {
  // An empty page, which comes first in some browsers, has no storage.
  if (/^(http|app):$/.test(location.protocol)) localStorage.setItem('malletloom.firstSteps', 'over');
};

/**
 * What the app of a test runs in: a browser; the desktop edition with a folder on the disk, a stand-in for Electron; or
 * with Electron itself, where that can be had.
 */
export type Host = 'browser' | 'desktop' | 'electron';

/** A page with a fake Web MIDI, on the app as either edition shows it; the same journeys run in both. */
export const test = base.extend<
  { app: Page },
  { address: string; host: Host; bundled: string; whyNotReal: string | undefined }
>({
  host: ['browser', { scope: 'worker', option: true }],
  whyNotReal: [
    async ({ host }, use) => {
      const why = host === 'electron' ? whyNotHere() : undefined;
      if (why !== undefined) console.log(why);
      await use(why);
    },
    { scope: 'worker' },
  ],
  bundled: [
    async ({ host }, use, worker) => {
      if (host !== 'desktop') {
        await use('');
        return;
      }
      const folder = await bundleDesktop(worker.workerIndex);
      await use(folder);
      rmSync(folder, { recursive: true, force: true });
    },
    { scope: 'worker' },
  ],
  address: [
    async ({}, use) => {
      const root = fileURLToPath(new URL('../../dist/renderer', import.meta.url));
      const serving = await serve({ root, port: 0 });
      await use(serving.url);
      await serving.close();
    },
    { scope: 'worker' },
  ],
  app: async ({ page, address, host, whyNotReal, bundled, browser, contextOptions, viewport }, use) => {
    const wrong: string[] = [];
    const watch = (seen: Page): void => {
      seen.on('pageerror', error => wrong.push(error.message));
      seen.on('console', message => {
        if (message.type() === 'error') wrong.push(message.text());
      });
    };
    if (host === 'electron') {
      test.skip(whyNotReal !== undefined, whyNotReal);
      await withRealElectron({ viewport, prepare: knowsTheWay }, watch, use);
      expect(wrong).toEqual([]);
      return;
    }
    if (host === 'desktop') {
      await withComputer(
        { browser, bundled, options: { ...contextOptions, viewport } },
        async computer => {
          await use((await computer.start()).page);
        },
        async opened => {
          opened.on('page', watch);
          await opened.addInitScript(knowsTheWay);
        },
      );
      expect(wrong).toEqual([]);
      return;
    }
    watch(page);
    await page.addInitScript(installFakeWebMidi as () => void);
    // A machine on which somebody knows the way; test/e2e/help.spec.ts shows one on which nobody does.
    await page.addInitScript(knowsTheWay);
    await page.goto(address);
    await expect(page.getByRole('button', { name: 'Catch that' })).toBeVisible();
    await use(page);
    expect(wrong).toEqual([]);
  },
});
export { expect };

declare global {
  interface Window {
    fakeMidi: FakeMidi;
  }
}

/** Opens one of the invented takes. */
export const openDemo = async (page: Page, title: string): Promise<void> => {
  await page.getByRole('button', { name: title }).click();
  await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
  await expect(page.locator('.system svg').first()).toBeVisible();
};

/** The score in words, a line a bar. */
export const inWords = async (page: Page): Promise<string[]> =>
  page.locator('.in-words li').allTextContents();

export const goTo = async (page: Page, place: string): Promise<void> => {
  await page.getByRole('navigation', { name: 'Places' }).getByRole('button', { name: place }).click();
};

/** Chooses a card of the development pane, and keeps it. */
export const keepCard = async (page: Page, title: string): Promise<void> => {
  await page.locator('.treatment-try').filter({ hasText: title }).first().click();
  await page.getByRole('button', { name: 'Write it in' }).click();
};

/** Opens the menu of the first piece of the register. */
export const moreFiles = async (page: Page): Promise<void> => {
  await page
    .getByRole('button', { name: /^Hand on / })
    .first()
    .click();
};

/** Opens the settings of the reader that are seldom changed. */
export const moreSettings = async (page: Page): Promise<void> => {
  const button = page.getByRole('button', { name: 'More settings' });
  if ((await button.getAttribute('aria-expanded')) !== 'true') await button.click();
};

/** What Hear in Write plays. */
export const hearIn = async (page: Page, what: 'page' | 'take' | 'both'): Promise<void> => {
  await page.getByLabel(/^Hear (the page|the take|both)/).selectOption(what);
  await page.getByRole('button', { name: 'Hear', exact: true }).click();
};

/** Makes somebody the current pupil: the first word of the sentence is the chooser. */
export const choosePupil = async (page: Page, codeName: string): Promise<void> => {
  const word = page.locator('button.pupil-word');
  if (!(await word.isVisible())) await goTo(page, 'Play');
  await word.click();
  await page.getByRole('combobox', { name: 'Code name' }).fill(codeName);
  await page.keyboard.press('Enter');
};
/** Whose the piece is, as the sentence says it. */
export const pupilNow = async (page: Page): Promise<string> =>
  (await page.locator('button.pupil-word span').first().textContent()) ?? '';
/** Keeps a version of what is open. */
export const keepVersion = async (page: Page): Promise<void> => {
  const keep = page.getByRole('button', { name: 'Keep a version' });
  if (await keep.isVisible()) await keep.click();
  await expect(page.getByRole('button', { name: 'Kept', exact: true })).toBeVisible();
};
/** Opens a line of the register. */
export const openRow = async (page: Page, title: string, codeName: string): Promise<void> => {
  await page.getByRole('button', { name: `Open ${title} by ${codeName}` }).click();
};
/** Enters a class list of code names. */
export const enterClass = async (page: Page, name: string, text: string): Promise<void> => {
  await goTo(page, 'Keep');
  await page.getByRole('button', { name: 'Class list' }).click();
  const dialog = page.getByRole('dialog', { name: 'Class list' });
  await dialog.getByLabel(/called/).fill(name);
  await dialog.getByRole('button', { name: 'Make the list' }).click();
  await dialog.getByLabel(/^Type or paste/).fill(text);
  await dialog.getByRole('button', { name: 'Put them on the list' }).click();
  await dialog.getByRole('button', { name: 'Close' }).click();
};
