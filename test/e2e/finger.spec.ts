import { enterClass, expect, test } from './app.ts';

test.use({ hasTouch: true });

test('in the class list every box and button is large enough for a finger', async ({ app: page }) => {
  await enterClass(page, '7 Wren', 'Heron\nOtter\nPuffin');
  await page.getByRole('button', { name: 'Class list' }).click();
  const targets = page.locator('.class-pupils :is(label, button)');
  await expect(targets).toHaveCount(6);
  // 44 CSS pixels: WCAG 2.2, success criterion 2.5.5.
  for (const target of await targets.all())
    expect((await target.boundingBox())?.height).toBeGreaterThanOrEqual(44);
});
