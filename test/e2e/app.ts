import { fileURLToPath } from 'node:url';
import { expect, type Page, test as base } from 'playwright/test';
import { serve } from '../../electron/loopback/server.ts';
import { type FakeMidi, installFakeWebMidi } from '../fakes/webMidi.ts';

/** A page with a fake Web MIDI, on the app served as the browser edition serves it. */
export const test = base.extend<{ app: Page }, { address: string }>({
  address: [
    async ({}, use) => {
      const root = fileURLToPath(new URL('../../dist/renderer', import.meta.url));
      const serving = await serve({ root, port: 0 });
      await use(serving.url);
      await serving.close();
    },
    { scope: 'worker' },
  ],
  app: async ({ page, address }, use) => {
    const wrong: string[] = [];
    page.on('pageerror', error => wrong.push(error.message));
    page.on('console', message => {
      if (message.type() === 'error') wrong.push(message.text());
    });
    await page.addInitScript(installFakeWebMidi as () => void);
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
  await page.getByRole('button', { name: 'Keep this' }).click();
};

/** Shows the files of the first piece of the register that are not for paper. */
export const moreFiles = async (page: Page): Promise<void> => {
  const more = page.locator('.more-files').first();
  if ((await more.getAttribute('open')) === null) await more.locator('summary').click();
};

/** Makes somebody the current pupil. */
export const choosePupil = async (page: Page, codeName: string): Promise<void> => {
  await page.locator('.who > button').click();
  await page.getByLabel('Code name').fill(codeName);
  await page.getByLabel('Code name').press('Enter');
};
/** Whose the piece is, as the header says it. */
export const pupilNow = async (page: Page): Promise<string> =>
  ((await page.locator('.who > button').textContent()) ?? '').split(':')[0] ?? '';
/** Keeps what is open, in Keep. */
export const keepVersion = async (page: Page): Promise<void> => {
  const keep = page.locator('.keep-top .main-action');
  if (await keep.isEnabled()) await keep.click();
  await expect(page.getByRole('button', { name: 'Kept', exact: true })).toBeVisible();
};
export const openRow = async (page: Page, title: string, codeName: string): Promise<void> => {
  await page.getByRole('button', { name: `Open ${title} by ${codeName}` }).click();
};
