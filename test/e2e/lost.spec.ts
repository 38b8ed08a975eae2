import type { Page } from 'playwright/test';
import { choosePupil, expect, goTo, keepVersion, openRow, pupilNow, test } from './app.ts';
import { openTake } from './takeFile.ts';

// Five plain ways in which a pupil's work was lost or filed under another pupil; each of these failed on
// the code before (the commit that brought it says how), but for the reload, which was mended already.

const IDEA = {
  bpm: 96,
  click: true,
  strikes: [0, 1, 2, 3].map((at, i) => [at, [72, 76, 79, 76][i] ?? 72] as const),
};
const OTHER = { ...IDEA, strikes: [0, 1.5, 2, 3].map((at, i) => [at, [79, 76, 74, 72][i] ?? 72] as const) };

const rowsOf = (page: Page, codeName: string) =>
  page.locator('.register tbody tr').filter({ has: page.getByRole('rowheader', { name: codeName }) });

const strikeThree = async (page: Page): Promise<void> => {
  for (const key of ['a', 'd', 'g']) await page.keyboard.press(key);
  await expect(page.locator('.catch-words').getByText(/3 strikes/)).toBeVisible();
};

test('1. the next code name does not rename the open piece', async ({ app: page }) => {
  await choosePupil(page, 'Heron');
  await openTake(page, IDEA);
  await goTo(page, 'Keep');
  await keepVersion(page);
  await choosePupil(page, 'Otter');
  const keep = page.getByRole('button', { name: 'Keep a version' });
  if ((await keep.isVisible()) && (await keep.isEnabled())) await keep.click();
  await goTo(page, 'Keep');
  await expect(rowsOf(page, 'Heron').getByText('Idea', { exact: true })).toBeVisible();
  await goTo(page, 'Play');
  await openTake(page, OTHER);
  await goTo(page, 'Keep');
  await keepVersion(page);
  await expect(rowsOf(page, 'Heron').getByText('Idea', { exact: true })).toBeVisible();
  await expect(rowsOf(page, 'Otter').getByText('Idea', { exact: true })).toBeVisible();
});

test('2. who opens a pupil’s piece and catches, catches for that pupil', async ({ app: page }) => {
  await choosePupil(page, 'Heron');
  await openTake(page, IDEA);
  await goTo(page, 'Keep');
  await keepVersion(page);
  await choosePupil(page, 'Otter');
  await goTo(page, 'Keep');
  await openRow(page, 'Idea', 'Heron');
  await expect(page.locator('.system svg').first()).toBeVisible();
  expect(await pupilNow(page)).toBe('Heron');
  await goTo(page, 'Play');
  await strikeThree(page);
  await page.getByRole('button', { name: 'Catch that' }).click();
  await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
  expect(await pupilNow(page)).toBe('Heron');
});

test('3. Back goes to the place before, and never out of the app', async ({ app: page }) => {
  await openTake(page, IDEA);
  await goTo(page, 'Keep');
  await page.goBack();
  await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
  await page.goBack();
  await page.goBack();
  await page.goBack();
  await expect(page.getByRole('button', { name: 'Catch that' })).toBeVisible();
});

test('a title that is being typed is there after a reload, and is one step', async ({ app: page }) => {
  await choosePupil(page, 'Heron');
  await openTake(page, IDEA);
  const title = page.getByLabel('Title');
  await title.click();
  await page.keyboard.press('End');
  await page.keyboard.type(' of bells');
  await expect(page.getByRole('button', { name: 'Undo: name it Idea of bells' })).toBeVisible();
  await page.keyboard.type(', slow');
  await expect(page.getByRole('button', { name: 'Undo: name it Idea of bells, slow' })).toBeVisible();
  await expect(title).toBeFocused();
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  await page.reload();
  await expect(title).toHaveValue('Idea of bells, slow');
  await page.getByRole('button', { name: /^Undo: name it/ }).click();
  await expect(title).toHaveValue('Idea');
});

test('4. a catch over work that nobody kept leaves that work in the register', async ({ app: page }) => {
  await choosePupil(page, 'Heron');
  await openTake(page, IDEA);
  await goTo(page, 'Play');
  await strikeThree(page);
  await page.getByRole('button', { name: 'Catch that' }).click();
  await expect(page.getByRole('region', { name: 'The page' })).toBeVisible();
  await page.getByRole('button', { name: 'Next pupil' }).click();
  await goTo(page, 'Keep');
  await expect(rowsOf(page, 'Heron')).toHaveCount(2);
});

test('5. a rival version can be opened, and the mark goes away once it is settled', async ({
  app: page,
  context,
}) => {
  await choosePupil(page, 'Heron');
  await openTake(page, IDEA);
  await goTo(page, 'Keep');
  await keepVersion(page);
  // Another window opens the same version; both change it and keep.
  const other = await context.newPage();
  await other.goto(page.url());
  await goTo(other, 'Keep');
  await openRow(other, 'Idea', 'Heron');
  for (const window of [page, other]) {
    await goTo(window, 'Write');
    await window.locator('h1').click();
    await window.keyboard.press('ArrowRight');
    await window.keyboard.press(window === page ? 'Alt+ArrowUp' : 'Alt+ArrowDown');
    await goTo(window, 'Keep');
    await keepVersion(window);
  }
  await expect(rowsOf(other, 'Heron')).toContainText('two versions');
  await other.getByRole('button', { name: /^Settle/ }).click();
  const settling = other.getByRole('dialog');
  await expect(settling.locator('.system svg')).toHaveCount(2);
  await settling.getByRole('button', { name: 'Keep both' }).click();
  await expect(rowsOf(other, 'Heron')).toHaveCount(2);
  await expect(other.locator('.row-state.rivals')).toHaveCount(0);
});
