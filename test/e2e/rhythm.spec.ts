import type { Page } from 'playwright/test';
import { expect, inWords, test } from './app.ts';

// A rhythm on one pad: written on one line, then given its pitches by striking the bars in order.

/** Strikes a pad at seconds before now, as its own clock tells. */
const strikePad = (page: Page, blows: readonly (readonly [ago: number, pitch: number])[]): Promise<void> =>
  page.evaluate(all => {
    const held = window as unknown as { pad?: string };
    held.pad ??= window.fakeMidi.plug('Pad 25');
    const now = performance.now();
    for (const [ago, pitch] of all) window.fakeMidi.send(held.pad, [0x90, pitch, 90], now - ago * 1000);
  }, blows);
/** The notes of the page in words, without their values. */
const names = async (page: Page): Promise<string[]> =>
  (await inWords(page)).join(' ').match(/[A-G]\d(?= )/g) ?? [];

test('a rhythm on one pad stands on one line until bars are struck for its notes; a wrong count is said', async ({
  app: page,
}) => {
  await strikePad(page, []);
  // Moments before the page was there are none.
  await expect.poll(() => page.evaluate(() => performance.now())).toBeGreaterThan(4100);
  // Crotchets at 120, the second half of each bar off the beat.
  await strikePad(
    page,
    [0, 0.5, 1, 1.25, 1.75, 2, 2.5, 3, 3.25, 3.75].map(at => [4 - at, 48] as const),
  );
  await page.getByRole('button', { name: 'Catch that' }).click();
  const sheet = page.getByRole('region', { name: 'The page' });
  await expect(sheet.locator('.stave-lines').first().locator('> *')).toHaveCount(1);
  // Every head is on the line.
  const middles = (what: string) =>
    sheet
      .locator('.system')
      .first()
      .locator(what)
      .evaluateAll(all =>
        all.map(e => {
          const { top, bottom } = e.getBoundingClientRect();
          return Math.round((top + bottom) / 2);
        }),
      );
  const [line] = await middles('.stave-lines > *');
  const heads = await middles('.vf-notehead');
  expect(heads.length).toBeGreaterThan(4);
  for (const head of heads) expect(Math.abs(head - (line ?? NaN))).toBeLessThanOrEqual(1);
  expect(await inWords(page)).toContainEqual(expect.stringMatching(/^Bar 1: crotchet; crotchet; /));
  expect(await names(page)).toEqual([]);

  await page.getByRole('button', { name: 'Give it pitches' }).click();
  await strikePad(
    page,
    [72, 76, 79, 76].map((pitch, i) => [0.4 - i / 10, pitch] as const),
  );
  const panel = page.getByRole('group', { name: 'Give it pitches' });
  await expect(panel).toContainText('4 of 10 notes: C5 E5 G5 E5');
  await expect(panel.getByRole('button', { name: 'Write them in' })).toBeDisabled();
  // What was struck is still there after a reload in the middle, and after it was left.
  await expect(page.locator('.safe-sign.safe')).toHaveCount(1);
  await page.reload();
  await expect(panel).toContainText('4 of 10 notes: C5 E5 G5 E5');
  await page.keyboard.press('Escape');
  await expect(panel).toHaveCount(0);
  await page.getByRole('button', { name: 'Give it pitches' }).click();
  await strikePad(page, []);
  await strikePad(
    page,
    [74, 72, 72, 76, 79, 84, 60].map((pitch, i) => [0.7 - i / 10, pitch] as const),
  );
  await expect(panel).toContainText('11 of 10 notes, one bar too many: ');
  await panel.getByRole('button', { name: 'Take back the last' }).click();
  await panel.getByRole('button', { name: 'Write them in' }).click();
  await expect(sheet.locator('.stave-lines').first().locator('> *')).toHaveCount(5);
  const struck = ['C5', 'E5', 'G5', 'E5', 'D5', 'C5', 'C5', 'E5', 'G5', 'C6'];
  expect(new Set(await names(page))).toEqual(new Set(struck));
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(sheet.locator('.stave-lines').first().locator('> *')).toHaveCount(1);
});
