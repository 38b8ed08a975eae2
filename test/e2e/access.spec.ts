import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright/test';
import {
  choosePupil,
  enterClass,
  expect,
  goTo,
  inWords,
  keepCard,
  keepVersion,
  moreSettings,
  openDemo,
  test,
} from './app.ts';

const cleanOn = (page: Page) => async (): Promise<void> => {
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .analyze();
  expect(violations.map(v => `${v.id}: ${v.nodes.map(n => n.html.slice(0, 160)).join(' | ')}`)).toEqual([]);
};

test('axe finds nothing in any of the four places', async ({ app: page }) => {
  const clean = cleanOn(page);
  await clean();
  await openDemo(page, 'Ferry bell');
  await clean();
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Canon');
  await clean();
  await goTo(page, 'Keep');
  await keepVersion(page);
  await clean();
});

test('axe finds nothing in the chooser, the class list, the register, its menu and the versions', async ({
  app: page,
}) => {
  const clean = cleanOn(page);
  await enterClass(page, '8 Kestrel', 'Badger, Heron, Otter');
  await clean();
  await choosePupil(page, 'Heron');
  await page.locator('button.pupil-word').click();
  await clean();
  await page.keyboard.press('Escape');
  await openDemo(page, 'Ferry bell');
  await goTo(page, 'Keep');
  await keepVersion(page);
  await page.getByRole('button', { name: 'Hand on Ferry bell by Heron' }).click();
  await clean();
  await page.getByRole('button', { name: 'Versions of Ferry bell by Heron' }).click();
  await expect(page.locator('.version .system svg')).toHaveCount(1);
  await clean();
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Class list' }).click();
  await clean();
});

test('axe finds nothing in the windows and panels that open', async ({ app: page }) => {
  const clean = cleanOn(page);
  await moreSettings(page);
  await page.getByRole('button', { name: 'not lined up with the click' }).click();
  await clean();
  await page.getByRole('button', { name: 'Close' }).click();
  await openDemo(page, 'Ferry bell');
  await page.locator('.vf-stavenote .hit').nth(1).click();
  await page.keyboard.press('Alt+ArrowRight');
  await expect(page.locator('.followed-words')).toBeVisible();
  await clean();
  await moreSettings(page);
  await clean();
  await page.getByRole('button', { name: 'tap the beat' }).click();
  await clean();
  await page.keyboard.press('Escape');
  await page.keyboard.press('?');
  await clean();
});

test('axe finds nothing in the panels of Grow', async ({ app: page }) => {
  const clean = cleanOn(page);
  await openDemo(page, 'Ferry bell');
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await page.getByRole('button', { name: 'Parts and bars' }).click();
  await page.locator('.vf-stavenote .hit').nth(1).click();
  await clean();
  await page.locator('.part-handle').click();
  await clean();
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Canon: what is it?' }).click();
  await clean();
  await page.getByRole('button', { name: 'Close' }).click();
  await page.getByRole('button', { name: 'Find an entry for another part' }).click();
  await clean();
});

test('at 200 % zoom and in large print nothing is lost: everything can be scrolled to', async ({
  app: page,
}) => {
  // A window of 1366 by 768 at 200 % is one of 683 by 384.
  await page.setViewportSize({ width: 683, height: 384 });
  await openDemo(page, 'Late for lunch');
  const reach = async (name: string | RegExp): Promise<void> => {
    const button = page.getByRole('button', { name, exact: typeof name === 'string' }).first();
    await button.scrollIntoViewIfNeeded();
    await expect(button).toBeInViewport();
    await button.click({ trial: true });
  };
  for (const name of [
    'Hear',
    'Add a note',
    'Use this motif',
    'More settings',
    'Hear reading 1',
    'Next pupil',
  ])
    await reach(name);
  await page.getByRole('button', { name: 'Use this motif' }).click();
  for (const name of ['Parts and bars', 'Copy', 'Find an entry for another part', 'Canon']) await reach(name);
});

test('corrections by keyboard alone, undone and redone', async ({ app: page }) => {
  await openDemo(page, 'Late for lunch');
  const before = await inWords(page);
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Alt+ArrowRight');
  await expect
    .poll(async () => (await inWords(page))[2])
    .toContain('Bar 1: G4 dotted quaver; A4 semiquaver;');
  const moved = await inWords(page);
  await page.keyboard.press('Control+z');
  expect(await inWords(page)).toEqual(before);
  await page.keyboard.press('Control+Shift+z');
  expect(await inWords(page)).toEqual(moved);
  await page.keyboard.press('Alt+ArrowUp');
  expect((await inWords(page))[2]).toContain('C5 semiquaver');
  await page.keyboard.press('Backspace');
  expect((await inWords(page))[2]).toContain('semiquaver rest');
});

test('several bars at once by touch, and bars lifted off', async ({ app: page }) => {
  await page
    .getByRole('button', { name: 'C5', exact: true })
    .dispatchEvent('pointerdown', { pointerId: 11, pointerType: 'touch', isPrimary: true });
  await page
    .getByRole('button', { name: 'E5', exact: true })
    .dispatchEvent('pointerdown', { pointerId: 12, pointerType: 'touch' });
  await expect(page.getByText(/Your last phrase: 2 strikes/)).toBeVisible();
  await page.getByLabel(/^Bars lifted off/).selectOption('5,11');
  await expect(page.getByRole('button', { name: 'F4, lifted off' })).toBeDisabled();
  await page.keyboard.press('KeyF');
  await page.keyboard.press('KeyD');
  await expect(page.getByText(/Your last phrase: 3 strikes/)).toBeVisible();
});

test('unplugging in the middle of a take loses nothing', async ({ app: page }) => {
  const id = await page.evaluate(() => window.fakeMidi.plug('Pad 25'));
  await expect(page.locator('.play-sentence')).toContainText('“Pad 25”');
  await page.evaluate(pad => window.fakeMidi.send(pad, [0x90, 72, 90]), id);
  await page.evaluate(pad => window.fakeMidi.send(pad, [0x90, 76, 90]), id);
  await page.evaluate(pad => {
    window.fakeMidi.unplug(pad);
  }, id);
  await expect(page.locator('.play-sentence')).not.toContainText('“Pad 25”');
  await expect(page.locator('.just-done')).toContainText('Pad 25 was unplugged');
  await page.evaluate(() => window.fakeMidi.plug('Pad 25'));
  await expect(page.locator('.play-sentence')).toContainText('“Pad 25”');
  await page.evaluate(pad => window.fakeMidi.send(pad, [0x90, 79, 90]), id);
  await expect(page.getByText(/Your last phrase: 3 strikes/)).toBeVisible();
});
