import AxeBuilder from '@axe-core/playwright';
import { expect, goTo, inWords, keepCard, openDemo, test } from './app.ts';

test('axe finds nothing in any of the four places', async ({ app: page }) => {
  const clean = async (): Promise<void> => {
    const { violations } = await new AxeBuilder({ page })
      .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
      .analyze();
    expect(violations.map(v => `${v.id}: ${v.nodes.map(n => n.html.slice(0, 160)).join(' | ')}`)).toEqual([]);
  };
  await clean();
  await openDemo(page, 'Ferry bell');
  await clean();
  await page.getByRole('button', { name: 'Use this motif' }).click();
  await keepCard(page, 'Canon');
  await clean();
  await goTo(page, 'Keep');
  await page.getByRole('button', { name: 'Keep Ferry bell' }).click();
  await expect(page.getByRole('button', { name: 'Kept', exact: true })).toBeVisible();
  await clean();
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
  await expect(page.getByText('“Pad 25”')).toBeVisible();
  await page.evaluate(pad => window.fakeMidi.send(pad, [0x90, 72, 90]), id);
  await page.evaluate(pad => window.fakeMidi.send(pad, [0x90, 76, 90]), id);
  await page.evaluate(pad => {
    window.fakeMidi.unplug(pad);
  }, id);
  await expect(page.getByText('“Pad 25”')).toBeHidden();
  await page.evaluate(() => window.fakeMidi.plug('Pad 25'));
  await expect(page.getByText('“Pad 25”')).toBeVisible();
  await page.evaluate(pad => window.fakeMidi.send(pad, [0x90, 79, 90]), id);
  await expect(page.getByText(/Your last phrase: 3 strikes/)).toBeVisible();
});
