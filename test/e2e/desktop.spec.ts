import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Locator, Page } from 'playwright/test';
import { choosePupil, goTo, inWords, keepCard, keepVersion, openDemo } from './app.ts';
import { expect, test } from './desktop.ts';
import { VERBS } from '../electron/desktop/verbs.ts';

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
  expect(bridge).toEqual([...VERBS]);
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

test('a page that crashed comes back where it was', async ({ computer }) => {
  const { page, standIn } = await computer.start();
  await openDemo(page, 'Tin roof');
  const words = await inWords(page);
  // Not while it is being made safe.
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  await standIn.crash('crashed');
  await expect(page.locator('.system svg').first()).toBeVisible();
  expect(await inWords(page)).toEqual(words);
  expect(standIn.seen.errors).toEqual([]);
});

test('the menu says and does what can be done; the title says what is open; files come in by the program', async ({
  computer,
}) => {
  const { page, standIn, quit } = await computer.start();
  await expect(page).toHaveTitle('Malletloom');
  // Nothing is there to be undone, kept or printed yet.
  await expect.poll(standIn.pressable).toContain('Play');
  for (const label of ['Undo', 'Keep a version', 'Print…', 'Write']) expect(standIn.press(label)).toBe(false);

  await choosePupil(page, 'Heron');
  const takes = join(fileURLToPath(new URL('../..', import.meta.url)), 'assets', 'demo');
  standIn.chooseNext(join(takes, 'tin-roof.mid'));
  expect(standIn.press('Open a file…')).toBe(true);
  await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
  await expect(page).toHaveTitle('Tin roof, Heron – Malletloom');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Repetition');
  await expect.poll(standIn.pressable).toContain('Undo: repetition');
  standIn.press('Undo: repetition');
  await expect.poll(standIn.pressable).toContain('Redo: repetition');
  standIn.press('Keep a version');
  const items = join(computer.documents, 'Malletloom', 'items');
  await expect.poll(() => existsSync(items) && readdirSync(items).length).toBe(1);

  // A second start and a double click hand on what they were given; what is none says so and hides nothing.
  standIn.startAgain(['--switch', 'puddle-jump.mid'], takes);
  await expect(page).toHaveTitle('Puddle jump, Heron – Malletloom');
  standIn.openByFinder(join(takes, 'gone.mid'));
  await expect(page.locator('body')).toContainText('gone.mid could not be read.');
  standIn.openByFinder(join(takes, 'ferry-bell.mid'));
  await expect(page).toHaveTitle('Ferry bell, Heron – Malletloom');
  await expect.poll(standIn.pressable).toContain('Tin roof, Heron');
  standIn.press('Tin roof, Heron');
  await expect(page).toHaveTitle('Tin roof, Heron – Malletloom');

  // In a field the menu takes back what was typed there, not a step of the piece.
  await goTo(page, 'Write');
  const field = page.getByLabel('Title');
  await field.press('End');
  await field.pressSequentially('s');
  standIn.press(standIn.pressable().find(label => label.startsWith('Undo')) ?? '');
  await expect(field).toHaveValue('Tin roof');
  await expect(page).toHaveTitle('Tin roof, Heron – Malletloom');

  standIn.press('About Malletloom');
  const about = page.getByRole('dialog', { name: /^Malletloom \d/ });
  await expect(about.getByRole('region')).toContainText('Licence: MIT');
  await page.keyboard.press('Escape');
  await expect(about).toBeHidden();

  standIn.press('Show the log in its folder');
  const [shown] = standIn.seen.shown;
  const log = readFileSync(shown ?? '', 'utf8');
  expect(log).toMatch(/ start 0\.0\.0 on /);
  expect(log).toContain('problem not-found');
  expect(log).not.toMatch(/Heron|roof|gone\.mid/);
  await quit();
  // No smaller and no larger than it was left, and on the screen.
  const place = JSON.parse(readFileSync(join(computer.userData, 'window.json'), 'utf8')) as object;
  expect(place).toMatchObject({ width: 1366, height: 860, isMaximized: false });
});

test('a page that stands still is waited for or ended, as the teacher says; a pupil has a small menu', async ({
  computer,
}) => {
  const { page, standIn } = await computer.start();
  standIn.hang(0);
  await expect.poll(() => standIn.seen.answered).toEqual([0]);
  expect(standIn.seen.ended).toBe(0);
  standIn.hang(1);
  await expect.poll(() => standIn.seen.ended).toBe(1);
  await page.evaluate(() => {
    localStorage.setItem('malletloom.start', 'pupil');
  });
  await page.reload();
  await expect.poll(standIn.pressable).toEqual(['About Malletloom']);
});
