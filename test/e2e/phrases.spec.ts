import type { Page } from 'playwright/test';
import { expect, inWords, test } from './app.ts';

// Minutes of trying things out become phrases to choose from.

/** Strikes played some seconds ago, as a device would have told of them then. */
const playedAgo = async (
  page: Page,
  all: readonly (readonly [ago: number, pitch: number])[],
): Promise<string> => {
  const name = 'Pad 25';
  const pad = await page.evaluate(called => {
    // A page that has been open for a while: nothing can have been struck before it was.
    const sinceOpened = performance.now.bind(performance);
    performance.now = () => sinceOpened() + 250_000;
    return window.fakeMidi.plug(called);
  }, name);
  await expect(page.locator('.play-sentence')).toContainText(name);
  await page.evaluate(
    ([id, strikes]) => {
      const now = performance.now();
      for (const [ago, pitch] of strikes) {
        window.fakeMidi.send(id, [0x90, pitch, 90], now - ago * 1000);
        window.fakeMidi.send(id, [0x80, pitch, 0], now - ago * 1000 + 100);
      }
    },
    [pad, all] as const,
  );
  return pad;
};

const tune = (ago: number, ...pitches: readonly number[]): [number, number][] =>
  pitches.map((pitch, i) => [ago - i * 0.5, pitch]);

const chips = (page: Page) => page.getByRole('group', { name: 'Phrases of the last five minutes' });
const names = async (page: Page): Promise<string> => (await inWords(page)).slice(2).join(' ');

test('a phrase of minutes ago is heard and caught; two in a row with what lies between', async ({
  app: page,
}) => {
  await playedAgo(page, [
    ...tune(200, 72, 74, 76, 77),
    ...tune(120, 79, 81, 79),
    ...tune(20, 84, 83, 84, 83, 84),
  ]);
  await expect(chips(page).locator('.phrase-chip')).toHaveCount(3);
  await expect(chips(page).locator('[aria-pressed=true]')).toHaveText(/5 strikes/);
  await chips(page)
    .getByRole('button', { name: /4 strikes/ })
    .click();
  await expect(chips(page).locator('[aria-pressed=true]')).toHaveText(/4 strikes\s*3 min ago/);
  await expect(page.locator('.catch-words')).toContainText('The chosen phrase: 4 strikes');
  const stop = page.getByRole('button', { name: 'Stop', exact: true });
  await expect(stop).toBeDisabled();
  await page.getByRole('button', { name: 'Hear', exact: true }).click();
  await expect(stop).toBeEnabled();
  await stop.click();
  await expect(stop).toBeDisabled();
  await page.getByRole('button', { name: 'Catch that' }).click();
  await expect(page.getByRole('region', { name: 'The page' }).locator('.system svg').first()).toBeVisible();
  expect(await names(page)).toMatch(/C5 .*D5 .*E5 .*F5/);
  expect(await names(page)).not.toMatch(/G5|C6/);
  await page.getByRole('navigation', { name: 'Places' }).getByRole('button', { name: 'Play' }).click();
  // Caught, it is chosen no longer: the last phrase is again what one press keeps.
  await expect(chips(page).locator('[aria-pressed=true]')).toHaveText(/5 strikes/);
});

test('phrases are chosen by keyboard alone, and whoever plays on means what comes now', async ({
  app: page,
}) => {
  const pad = await playedAgo(page, [
    ...tune(200, 72, 74, 76),
    ...tune(120, 79, 81),
    ...tune(20, 84, 83, 84, 83),
  ]);
  const old = chips(page).getByRole('button', { name: /3 strikes/ });
  await old.focus();
  await page.keyboard.press('Enter');
  await expect(old).toHaveAttribute('aria-pressed', 'true');
  await chips(page)
    .getByRole('button', { name: /2 strikes/ })
    .press('Enter');
  await expect(chips(page).locator('[aria-pressed=true]')).toHaveCount(2);
  await expect(page.locator('.catch-words')).toContainText('The chosen 2 phrases: 5 strikes');
  await page.evaluate(id => window.fakeMidi.send(id, [0x90, 60, 90]), pad);
  await expect(chips(page).locator('[aria-pressed=true]')).toHaveText(/1 strike\b/);
});
