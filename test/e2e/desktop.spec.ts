import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright/test';
import { choosePupil, goTo, inWords, keepCard, keepVersion, openDemo } from './app.ts';
import { expect, test } from './desktop.ts';

// The desktop edition's own main process and bridge on a real folder, in windows of a real Chromium; Electron
// itself is a stand-in (test/electron/desktop/app.test.ts runs the real one where its runtime can be had).

/** The word of Keep that says where the class library is. */
const libraryWord = (page: Page): Locator => page.locator('button.word').filter({ has: page.locator('b') });

test('an idea becomes a piece that lies in the documents, and is there at the next start', async ({
  computer,
}) => {
  const first = await computer.start();
  await choosePupil(first.page, 'Heron');
  await openDemo(first.page, 'Tin roof');
  const words = await inWords(first.page);
  await first.page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(first.page, 'Repetition');
  await keepVersion(first.page);
  const items = join(computer.documents, 'Malletloom', 'items');
  const [item] = readdirSync(items);
  expect(readdirSync(join(items, item ?? '')).some(name => name.endsWith('.json'))).toBe(true);
  await first.quit();

  const second = await computer.start();
  await goTo(second.page, 'Keep');
  await expect(libraryWord(second.page)).toHaveText(join(computer.documents, 'Malletloom'));
  await second.page.getByRole('button', { name: /^Open .* by Heron/ }).click();
  await goTo(second.page, 'Write');
  expect(await inWords(second.page)).toEqual(words);
  await second.quit();
});

test('only what the bridge names is reached, and the window stays the window', async ({ computer }) => {
  const { page, standIn } = await computer.start();
  const { sandbox, contextIsolation, nodeIntegration } = (
    standIn.windows[0]?.options as { webPreferences: Record<string, unknown> }
  ).webPreferences;
  expect({ sandbox, contextIsolation, nodeIntegration }).toEqual({
    sandbox: true,
    contextIsolation: true,
    nodeIntegration: false,
  });
  expect(standIn.seen.granted).toEqual(['midi', 'microphone']);

  const bridge = await page.evaluate(() =>
    Object.keys((window as unknown as { malletloom: object }).malletloom).sort(),
  );
  expect(bridge).toEqual(['chooseFolder', 'dropDraft', 'list', 'read', 'tidy', 'where', 'writeNew']);
  const reached = await page.evaluate(() =>
    (
      window as unknown as { malletloom: { read: (path: string) => Promise<{ ok: boolean }> } }
    ).malletloom.read('../../settings/place.json'),
  );
  expect(reached).toMatchObject({ ok: false, problem: { kind: 'bad-request' } });

  const before = page.url();
  await page.evaluate(() => {
    location.href = 'https://elsewhere.example/';
  });
  await expect.poll(() => standIn.seen.refused).toEqual(['https://elsewhere.example/']);
  expect(page.url()).toBe(before);
  await page.evaluate(() => {
    window.open('/index.html');
  });
  await expect.poll(() => standIn.seen.popups).toEqual(['deny']);
});

test('another folder is chosen in a dialog and remembered', async ({ computer }) => {
  const first = await computer.start();
  await goTo(first.page, 'Keep');
  const elsewhere = computer.userData;
  first.standIn.chooseNext(elsewhere);
  await libraryWord(first.page).click();
  await first.page.getByRole('button', { name: 'Choose another folder' }).click();
  await expect(libraryWord(first.page)).toHaveText(elsewhere);
  await first.quit();
  const second = await computer.start();
  await goTo(second.page, 'Keep');
  await expect(libraryWord(second.page)).toHaveText(elsewhere);
});

test('documents that cannot be used: a window with a sentence, and playing goes on', async ({ computer }) => {
  writeFileSync(computer.documents, 'a file in the place of the folder');
  const { page, standIn } = await computer.start();
  await openDemo(page, 'Tin roof');
  await goTo(page, 'Keep');
  await expect(page.locator('body')).toContainText(/cannot be (reached|read|used)/i);
  expect(standIn.seen.errors).toEqual([]);
});

test('a page that crashed comes back where it was; the menu is our own', async ({ computer }) => {
  const { page, standIn } = await computer.start();
  expect(standIn.menus).toHaveLength(1);
  await openDemo(page, 'Tin roof');
  const words = await inWords(page);
  // Not while it is being made safe.
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  await standIn.crash('crashed');
  await expect(page.locator('.system svg').first()).toBeVisible();
  expect(await inWords(page)).toEqual(words);
  expect(standIn.seen.errors).toEqual([]);
});
