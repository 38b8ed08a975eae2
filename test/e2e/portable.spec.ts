import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Download, Page } from 'playwright/test';
import { installFakeWebMidi } from '../fakes/webMidi.ts';
import { unzipByHand } from '../library/portable/zip.ts';
import {
  choosePupil,
  enterClass,
  expect,
  goTo,
  inWords,
  keepVersion,
  moreFiles,
  openRow,
  test,
} from './app.ts';
import { openTake } from './takeFile.ts';

const idea = (first: number) => ({
  bpm: 96,
  click: true,
  strikes: [0, 1, 2, 3].map((at, i) => [at, first + ([0, 4, 7, 4][i] ?? 0)] as const),
});

const saved = async (download: Download): Promise<string> => {
  const path = join(mkdtempSync(join(tmpdir(), 'portable-')), download.suggestedFilename());
  await download.saveAs(path);
  return path;
};

/** Another machine: a browser that shares nothing with the first. */
const otherMachine = async (browser: Browser, address: string): Promise<Page> => {
  const page = await (await browser.newContext()).newPage();
  await page.addInitScript(installFakeWebMidi as () => void);
  await page.goto(address);
  await expect(page.getByRole('button', { name: 'Catch that' })).toBeVisible();
  return page;
};

const bringIn = async (page: Page, path: string): Promise<void> => {
  await page.locator('input[type=file]').setInputFiles(path);
};
const said = (page: Page) => page.locator('.just-done');

const ofLibrary = async (page: Page, thing: string): Promise<void> => {
  await page.getByRole('button', { name: /own storage/ }).click();
  await page.getByRole('dialog', { name: 'The class library' }).getByRole('button', { name: thing }).click();
};

test('a class goes to another machine in one file, and comes in once', async ({
  app: page,
  browser,
  address,
}) => {
  await enterClass(page, '8 Kestrel', 'Badger, Heron');
  await choosePupil(page, 'Badger');
  await openTake(page, idea(72));
  await keepVersion(page);
  const written = await inWords(page);
  await choosePupil(page, 'Heron');
  await openTake(page, idea(74));
  // Nothing is kept here by hand: what lies on the desk comes along all the same.
  await goTo(page, 'Keep');
  await page.getByRole('button', { name: /^Hand on all/ }).click();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Portable file of all 2' }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('8-Kestrel.malletloom');
  const path = await saved(download);
  const inside = [...unzipByHand(new Uint8Array(readFileSync(path))).keys()];
  // The manifest, two pieces, and the class list as it was made and as it was filled.
  expect(inside).toHaveLength(5);

  const other = await otherMachine(browser, address);
  await goTo(other, 'Keep');
  await bringIn(other, path);
  await expect(said(other)).toContainText('From 8-Kestrel.malletloom came 2 new pieces, 1 class list.');
  await expect(other.locator('.register tbody th')).toHaveCount(2);
  await openRow(other, 'Idea', 'Badger');
  expect(await inWords(other)).toEqual(written);
  await goTo(other, 'Keep');
  await bringIn(other, path);
  await expect(said(other)).toContainText('All of 8-Kestrel.malletloom was here already.');
  await other.context().close();
});

test('one piece in one file, dropped on the window; by keyboard, check and take along everything', async ({
  app: page,
  browser,
  address,
}) => {
  await openTake(page, idea(72));
  await keepVersion(page);
  await goTo(page, 'Keep');
  await moreFiles(page);
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: /^Portable file of / }).click(),
  ]);
  const path = await saved(download);
  const other = await otherMachine(browser, address);
  const bytes = [...readFileSync(path)];
  // Dropped while something else is open: that stays open.
  await openTake(other, idea(67));
  const before = await inWords(other);
  const data = await other.evaluateHandle(all => {
    const transfer = new DataTransfer();
    transfer.items.add(new File([new Uint8Array(all)], 'work.malletloom'));
    return transfer;
  }, bytes);
  await other.locator('.drop').dispatchEvent('drop', { dataTransfer: data });
  await expect(said(other)).toContainText('From work.malletloom came 1 new piece.');
  expect(await inWords(other)).toEqual(before);
  await goTo(other, 'Keep');
  await expect(other.locator('.register tbody tr.register-row, .register tbody th')).toHaveCount(2);
  const place = other.getByRole('button', { name: /own storage/ });
  await place.focus();
  await other.keyboard.press('Enter');
  await expect(other.getByRole('button', { name: 'Bring in a portable file' })).toBeFocused();
  await other.keyboard.press('ArrowDown');
  await other.keyboard.press('ArrowDown');
  await other.keyboard.press('Enter');
  await expect(said(other)).toContainText('Everything can be read: 2 pieces.');
  await expect(place).toBeFocused();
  await other.context().close();
});

test('a file that is none leaves everything as it is, with a sentence', async ({ app: page }) => {
  await openTake(page, idea(72));
  await keepVersion(page);
  await goTo(page, 'Keep');
  await page.locator('input[type=file]').setInputFiles({
    name: 'holiday.malletloom',
    mimeType: 'application/zip',
    buffer: Buffer.from('PK\x03\x04 nothing of ours', 'latin1'),
  });
  await expect(page.getByText('holiday.malletloom is no portable file of Malletloom')).toBeVisible();
  await expect(page.locator('.register tbody th')).toHaveCount(1);
  await ofLibrary(page, 'Check that everything can be read');
  await expect(said(page)).toContainText('Everything can be read: 1 piece.');
});

test('a browser that may clear its storage says so once, with the way out beside it', async ({
  app: page,
}) => {
  // Headless browsers promise nothing: what is kept here may be cleared.
  test.skip(await page.evaluate(() => navigator.storage.persisted()), 'this browser promised to keep it');
  const notice = page.getByRole('region', { name: 'Take the work along' });
  await goTo(page, 'Keep');
  await expect(page.getByText('Nothing is kept yet.')).toBeVisible();
  await expect(notice).toBeHidden();
  await goTo(page, 'Play');
  await openTake(page, idea(72));
  await keepVersion(page);
  await goTo(page, 'Keep');
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    notice.getByRole('button', { name: 'Make a portable file' }).click(),
  ]);
  expect(download.suggestedFilename()).toBe('Class-library.malletloom');
  await expect(notice).toBeHidden();
  await page.reload();
  await expect(page.locator('.register tbody th')).toHaveCount(1);
  await expect(notice).toBeHidden();
});
