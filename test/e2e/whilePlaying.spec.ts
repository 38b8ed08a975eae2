import type { Page } from 'playwright/test';
import { expect, goTo, inWords, test } from './app.ts';

// The page writes itself while a pupil plays; what is caught is the same as without.

/** Strikes a bar on each beat the lamps show, and one between after the second, until a bar and a half is played. */
const playToTheLamps = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    const pad = window.fakeMidi.plug('Pad 25');
    const beat = 60_000 / 120;
    const strike = (pitch: number, at = performance.now()): void => {
      window.fakeMidi.send(pad, [0x90, pitch, 90], at);
      window.fakeMidi.send(pad, [0x80, pitch, 0], at + 20);
    };
    const litNow = (): string => document.querySelector('.beat-lamp.lit')?.textContent ?? '';
    await new Promise<void>(done => {
      let last = '';
      let played = 0;
      const watch = new MutationObserver(() => {
        const lit = litNow();
        if (lit === last) return;
        last = lit;
        if (lit === '' || (played === 0 && lit !== '1')) return;
        strike(72 + (played % 4) * 2);
        if (lit === '2')
          setTimeout(() => {
            strike(79);
          }, beat / 2);
        played += 1;
        if (played < 6) return;
        watch.disconnect();
        done();
      });
      watch.observe(document.body, { subtree: true, attributes: true, attributeFilter: ['class'] });
    });
  });

const settings = async (page: Page): Promise<void> => {
  await page.getByRole('button', { name: 'More settings' }).click();
};

test('to a click the page writes itself, and what is caught is the same without it', async ({
  app: page,
}) => {
  await page.getByLabel(/^Click:/).selectOption('on');
  await page.getByLabel(/=/).fill('120');
  await page.keyboard.press('Tab');
  await page.getByLabel(/^with/).selectOption('0');
  await page.getByRole('button', { name: 'Start the click' }).click();
  await playToTheLamps(page);
  const line = page.getByRole('img', { name: 'The last bars, written while you play' });
  // Six beats with a quaver after each second: 8 notes, the last of them when its beat is over.
  await expect(line.locator('.vf-notehead')).toHaveCount(8);
  await expect(line.locator('.vf-beam')).toHaveCount(2);
  await page.getByRole('button', { name: 'Catch that' }).click();
  await expect(page.getByRole('region', { name: 'The page' }).locator('.system svg').first()).toBeVisible();
  const caught = await inWords(page);

  await goTo(page, 'Play');
  await settings(page);
  await page.getByLabel(/^While you play/).selectOption('off');
  await page.keyboard.press('Escape');
  await expect(line).toHaveCount(0);
  await page.getByRole('button', { name: 'Catch that' }).click();
  await expect(page.getByRole('region', { name: 'The page' }).locator('.system svg').first()).toBeVisible();
  await expect.poll(() => inWords(page)).toEqual(caught);
});
