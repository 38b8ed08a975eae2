import type { Page } from 'playwright/test';
import { expect, test } from './app.ts';

// An idea from the bars to a kept version with nothing but keys: bars are one stop that arrow keys walk in, one key is
// the main action of every place, and the focus never falls to the top of the document.

const atNow = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const at = document.activeElement;
    return at === null ? '' : (at.getAttribute('aria-label') ?? at.className);
  });

/** Presses Tab until what is wanted has the focus; how often that took. */
const tabTo = async (page: Page, wanted: RegExp): Promise<number> => {
  for (let presses = 1; presses <= 40; presses += 1) {
    await page.keyboard.press('Tab');
    const at = await page.evaluate(
      () =>
        `${document.activeElement?.getAttribute('aria-label') ?? ''} ${document.activeElement?.textContent ?? ''}`,
    );
    if (wanted.test(at)) return presses;
  }
  throw new Error(`${String(wanted)} was not reached in 40 presses`);
};

test('from the bars to a kept version by keyboard alone', async ({ app: page }) => {
  const bars = page.getByRole('group', { name: /^Bars of the/ });
  await tabTo(page, /^C4/);
  await page.keyboard.press('Enter');
  for (const [key, bar] of [
    ['ArrowRight', /^C♯4/],
    ['ArrowDown', /^D4/],
    ['ArrowUp', /^E♭4/],
    ['End', /^C6/],
    ['Home', /^C4/],
    ['ArrowLeft', /^C4/],
  ] as const) {
    await page.keyboard.press(key);
    await expect(bars.locator(':focus')).toHaveAccessibleName(bar);
    await page.keyboard.press('Enter');
  }
  await expect(page.locator('.catch-words')).toContainText('7 strikes');
  // The bars are one stop: what comes after them is near, and they are gone back to where they were left.
  expect(await tabTo(page, /^Hear it| Hear/)).toBeLessThan(9);

  await page.keyboard.down('Control');
  await page.keyboard.down('Enter');
  const sheet = page.getByRole('region', { name: 'The page' });
  await expect(sheet).toBeVisible();
  // A key that is held is one press: it does not run on through the places.
  await page.keyboard.down('Enter');
  await page.keyboard.up('Enter');
  await page.keyboard.up('Control');
  await expect(sheet).toBeVisible();
  await expect.poll(() => atNow(page)).toBe('view write');
  await page.keyboard.press('Control+Enter');
  await expect(page.locator('.treatment-try').first()).toBeVisible();
  await expect.poll(() => atNow(page)).not.toBe('');

  const card = page.locator('.treatment-try').filter({ hasText: 'Repetition' });
  await card.focus();
  await page.keyboard.press('Enter');
  const keep = page.getByRole('button', { name: 'Write it in' });
  await expect(keep).toBeEnabled();
  await keep.focus();
  await page.keyboard.press('Enter');
  await expect(keep).toBeDisabled();
  await expect(card).toBeFocused();
  await page.keyboard.press('Enter');
  await expect(keep).toBeEnabled();
  await page.keyboard.press('Control+Enter');
  await expect(keep).toBeDisabled();
  await page.keyboard.press('Shift');
  await expect(card).toBeFocused();

  // After a press by hand Space is heard, and takes nothing back a second time.
  const stop = page.getByRole('button', { name: 'Stop', exact: true });
  await page.keyboard.press('Escape');
  await expect(stop).toBeDisabled();
  const undo = page.getByRole('button', { name: /^Undo: / });
  await undo.click();
  const step = await undo.getAttribute('aria-label');
  await page.keyboard.press('Space');
  await expect(stop).toBeEnabled();
  await expect(undo).toHaveAttribute('aria-label', step ?? '');
  await page.keyboard.press('Escape');

  await page.getByRole('button', { name: 'Keep', exact: true }).focus();
  await page.keyboard.press('Enter');
  await page.keyboard.press('Control+Enter');
  await expect(page.locator('.row-state.kept')).toHaveCount(1);

  // An answer that comes late greys the pressed button out: the next key still finds the focus.
  await page.getByRole('button', { name: 'Grow', exact: true }).focus();
  await page.keyboard.press('Enter');
  await card.focus();
  await page.keyboard.press('Enter');
  await expect(keep).toBeEnabled();
  await page.keyboard.press('Control+Enter');
  const version = page.getByRole('button', { name: 'Keep a version' });
  await expect(version).toBeEnabled();
  await version.focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('button', { name: 'Kept', exact: true })).toBeDisabled();
  await page.keyboard.press('Shift');
  await expect(page.locator('main:focus, main :focus')).toBeEnabled();
});
