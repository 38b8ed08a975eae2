import type { Page } from 'playwright/test';
import { expect, goTo, inWords, test } from './app.ts';

// A pupil plays the idea again, minutes later: both playings are read together.

/** Strikes played some seconds ago, as a device would have told of them then. */
const playedAgo = async (
  page: Page,
  all: readonly (readonly [ago: number, pitch: number])[],
): Promise<void> => {
  const pad = await page.evaluate(() => {
    // A page that has been open for a while: nothing can have been struck before it was.
    const sinceOpened = performance.now.bind(performance);
    performance.now = () => sinceOpened() + 250_000;
    return window.fakeMidi.plug('Pad 25');
  });
  await expect(page.locator('.play-sentence')).toContainText('Pad 25');
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
};

const AT = [0, 1, 1.5, 2, 3, 4, 5, 6];
const PITCHES = [72, 74, 76, 77, 76, 79, 74, 72];
/** The idea, so long ago, at so many seconds a crotchet, not quite even. */
const idea = (ago: number, crotchet: number): [number, number][] =>
  AT.map((at, i) => [ago - at * crotchet - ((i * 7) % 5) / 300, PITCHES[i] ?? 72]);

const chips = (page: Page) => page.getByRole('group', { name: 'Phrases of the last five minutes' });
const heads = async (page: Page): Promise<number> =>
  ((await inWords(page)).join(' ').match(/\b[A-G]\d /g) ?? []).length;

for (const way of ['mouse', 'touch', 'keyboard'] as const) {
  test.describe(`by ${way}`, () => {
    test.use({ hasTouch: way === 'touch' });
    test('the idea once more is read together with the first; another idea is told apart', async ({
      app: page,
    }) => {
      const press = async (name: string | RegExp): Promise<void> => {
        const button = page.getByRole('button', { name, exact: typeof name === 'string' });
        if (way === 'touch') await button.tap();
        else if (way === 'keyboard') await button.press('Enter');
        else await button.click();
      };
      await playedAgo(page, [
        ...idea(100, 0.6),
        ...idea(60, 0.68),
        ...[79, 78, 81, 83, 66].map((pitch, i): [number, number] => [20 - i * 0.5, pitch]),
      ]);
      await expect(chips(page).locator('.phrase-chip')).toHaveCount(3);
      await expect(page.getByRole('button', { name: 'Once more' })).toHaveCount(0);
      await chips(page).locator('.phrase-chip').nth(2).click();
      await press('Catch that');
      await expect(page.locator('.system svg').first()).toBeVisible();
      await expect.poll(() => heads(page)).toBe(8);
      const before = await inWords(page);

      await goTo(page, 'Play');
      await press('Once more');
      await expect(page.getByText('That was another idea than the one on the page.')).toBeVisible();

      await chips(page).locator('.phrase-chip').nth(1).click();
      await press('Once more');
      await expect(page.getByText('Once more: 8 strikes agree, and both are read together.')).toBeVisible();
      await expect.poll(() => heads(page)).toBe(16);
      await page.getByRole('button', { name: 'Undo: once more' }).click();
      await expect.poll(() => inWords(page)).toEqual(before);
    });
  });
}
