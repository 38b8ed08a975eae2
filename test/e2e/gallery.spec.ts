import { expect, test } from 'playwright/test';
import { SITUATIONS } from '../gallery/situations/index.ts';
import { openGallery } from './gallery.ts';

// Golden pictures are made on Linux; other systems smooth edges differently, so there only the
// symbols (test/gallery/written.test.ts) and collisions are held.
test('every situation of the gallery looks as it did', async ({ page }) => {
  test.skip(process.platform !== 'linux', 'golden pictures are compared on Linux only');
  test.setTimeout(180_000);
  await openGallery(page);
  await expect(page.locator('figure')).toHaveCount(SITUATIONS.length);
  for (const { id } of SITUATIONS) {
    // A small wrong sign, a figure of a tuplet, is about a hundred pixels.
    await expect
      .soft(page.locator(`[id="${id}"] .drawing`))
      .toHaveScreenshot(`${id}.png`, { animations: 'disabled', scale: 'css', maxDiffPixels: 40 });
  }
});
