import { expect, test } from './app.ts';

test('each bar may show the key that strikes it: what is written there strikes that bar', async ({
  app: page,
}) => {
  const caps = page.locator('.key-cap');
  await expect(caps).toHaveCount(0);
  await page.getByRole('button', { name: 'More settings' }).click();
  await page.getByLabel(/^Computer keys strike bars/).selectOption('written on each bar');
  await page.keyboard.press('Escape');
  await expect(caps).not.toHaveCount(0);
  await expect(page.locator('.safe-sign.safe')).toBeVisible();
  await page.reload();
  // Kept with the session. Every bar within the two rows of keys has one.
  await expect(caps).not.toHaveCount(0);
  const marked = await page.locator('.bar:has(.key-cap)').evaluateAll(bars =>
    bars.map(bar => ({
      name: bar.getAttribute('aria-label') ?? '',
      key: bar.querySelector('.key-cap')?.textContent ?? '',
      fits: (() => {
        const cap = bar.querySelector('.key-cap')?.getBoundingClientRect();
        const box = bar.getBoundingClientRect();
        return (
          cap !== undefined && cap.left >= box.left && cap.right <= box.right && cap.bottom <= box.bottom
        );
      })(),
    })),
  );
  expect(marked.filter(bar => !bar.fits)).toEqual([]);
  expect(marked.length).toBeGreaterThan(15);
  for (const { name, key } of marked.filter(bar => /^[A-Z]$/.test(bar.key))) {
    const moved = await page.evaluate(letter => {
      for (const animation of document.getAnimations()) animation.cancel();
      for (const type of ['keydown', 'keyup'])
        window.dispatchEvent(
          new KeyboardEvent(type, { code: `Key${letter}`, bubbles: true, cancelable: true }),
        );
      return [...document.querySelectorAll('.bar')]
        .filter(bar => bar.getAnimations().length > 0)
        .map(bar => bar.getAttribute('aria-label'));
    }, key);
    expect([key, moved]).toEqual([key, [name]]);
  }
  // Where single-letter keys are switched off, no key strikes and none is written.
  await page.keyboard.press('?');
  await page.getByRole('checkbox', { name: 'Single keys do something' }).uncheck();
  await page.keyboard.press('Escape');
  await expect(caps).toHaveCount(0);
});
