import type { Page } from 'playwright/test';
import { enterClass, expect, goTo, test } from './app.ts';
import { openTake } from './takeFile.ts';

const IDEA = {
  bpm: 96,
  click: true,
  strikes: [0, 0.75, 1.5, 2, 3].map((at, i) => [at, [72, 76, 79, 76, 72][i] ?? 72] as const),
};
const title = (page: Page) => page.getByLabel('Title');

test('a reload in the middle: piece, undo, redo, choice and view are as they were', async ({ app: page }) => {
  await openTake(page, IDEA);
  await page.locator('h1').click();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Alt+ArrowUp');
  await expect(page.getByRole('button', { name: /^Undo: C5 to/ })).toBeVisible();
  await page.keyboard.press('Alt+ArrowUp');
  await page.keyboard.press('Control+z');
  await expect(page.getByRole('button', { name: /^Redo: / })).toBeVisible();
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  const before = await page.locator('.in-words ol').first().textContent();
  await page.reload();
  await expect(page.getByRole('button', { name: /^Undo: C5 to/ })).toBeVisible();
  await expect(page.getByRole('button', { name: /^Redo: / })).toBeVisible();
  expect(await page.locator('.in-words ol').first().textContent()).toBe(before);
  await page.getByRole('button', { name: /^Undo: C5 to/ }).click();
  await expect(page.locator('.in-words ol').first()).toContainText('C5');
});

test('a window that was lost: the next one takes up what lay on its desk', async ({ app: page, context }) => {
  await openTake(page, IDEA);
  await expect(title(page)).toHaveValue('Idea');
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  const address = page.url();
  // No unload handler runs, and the next window knows nothing of this one.
  await page.close({ runBeforeUnload: false });
  const next = await context.newPage();
  await next.goto(address);
  await expect(title(next)).toHaveValue('Idea');
  await expect(
    next.getByRole('status').filter({ hasText: 'Everything is here as it was left.' }),
  ).toHaveCount(1);
});

test('two tabs have a desk each, and a reload gives each its own', async ({ app: page, context }) => {
  await openTake(page, IDEA);
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  const other = await context.newPage();
  await other.goto(page.url());
  await expect(other.getByRole('button', { name: 'Catch that' })).toBeVisible();
  await expect(other.getByRole('button', { name: 'Write' })).toBeDisabled();
  await openTake(other, { ...IDEA, bpm: 120, strikes: IDEA.strikes.slice(0, 3) });
  await expect(other.locator('.safe-sign.safe')).toBeVisible();
  const [one, two] = [
    await page.locator('.in-words ol').first().textContent(),
    await other.locator('.in-words ol').first().textContent(),
  ];
  expect(one).not.toBe(two);
  await page.reload();
  await other.reload();
  await expect(page.locator('.in-words ol').first()).toHaveText(one ?? '');
  await expect(other.locator('.in-words ol').first()).toHaveText(two ?? '');
});

test('a reload at once, before a second has gone: the last step is not lost', async ({ app: page }) => {
  await openTake(page, IDEA);
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  await page.locator('h1').click();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Alt+ArrowUp');
  await expect(page.getByRole('button', { name: /^Undo: C5 to/ })).toBeVisible();
  await page.reload();
  await expect(page.getByRole('button', { name: /^Undo: C5 to/ })).toBeVisible();
});

test('what was struck before a reload can still be caught', async ({ app: page }) => {
  for (const key of ['a', 'd', 'g']) await page.keyboard.press(key);
  await expect(page.locator('.catch-words').getByText(/3 strikes/)).toBeVisible();
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  await page.reload();
  await expect(page.locator('.catch-words').getByText(/3 strikes/)).toBeVisible();
  await page.getByRole('button', { name: 'Catch that' }).click();
  await expect(page.getByRole('region', { name: 'The page' }).locator('.system svg').first()).toBeVisible();
  await goTo(page, 'Play');
});

test('a window killed between keeping and noting it: the next one makes no rival', async ({
  app: page,
  context,
}) => {
  await enterClass(page, '8 Kestrel', 'Newt\nOtter');
  await page.getByRole('button', { name: /^Next/ }).click();
  await openTake(page, IDEA);
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  // From here on this machine notes nothing any more, but the class library takes what it is given.
  await page.evaluate(() => {
    IDBObjectStore.prototype.put = function () {
      throw new DOMException('killed', 'AbortError');
    };
  });
  await page.getByRole('button', { name: 'Next: Otter' }).click();
  await goTo(page, 'Keep');
  const newt = (of: Page) => of.locator('.register tbody tr').filter({ hasText: 'Newt' });
  await expect(newt(page).locator('.row-state.draft')).toBeVisible();
  await page.close({ runBeforeUnload: false });

  const next = await context.newPage();
  await next.goto(page.url());
  await expect(title(next)).toHaveValue('Idea');
  await next.getByRole('button', { name: 'Next: Otter' }).click();
  await goTo(next, 'Keep');
  await expect(newt(next).locator('.row-state.draft')).toBeVisible();
  await expect(next.locator('.row-state.rivals')).toHaveCount(0);
  await expect(next.locator('.safe-sign.safe')).toBeVisible();
});
