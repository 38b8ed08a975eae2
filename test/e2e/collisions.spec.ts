import { expect, test } from 'playwright/test';
import { STAVE_HEIGHTS } from '../../renderer/page/options.ts';
import { openGallery } from './gallery.ts';

/** Page widths, in CSS pixels: a phone's, half a window's, A4 less its margins, a wide window's. */
const WIDTHS = [420, 640, 688, 1100];

test('nothing on the page touches anything else or leaves it, at every stave height and several widths', async ({
  page,
}) => {
  test.setTimeout(120_000);
  await openGallery(page);
  const wrong = await page.evaluate(
    async ({ widths, heights }) => {
      const found: string[] = [];
      let checked = 0;
      for (const name of gallery.names()) {
        const ways = [
          ...widths.map(width => ({ width })),
          ...heights.map(staveHeight => ({ width: 688, staveHeight })),
          { width: 640, under: ['letters', 'counts', 'syllables'] as const },
        ];
        for (const way of ways) {
          checked += 1;
          for (const line of await gallery.touching(name, way)) {
            found.push(`${name} ${JSON.stringify(way)}: ${line}`);
          }
        }
      }
      return { found, checked };
    },
    { widths: WIDTHS, heights: [...STAVE_HEIGHTS] },
  );
  expect(wrong.checked).toBeGreaterThan(1000);
  expect(wrong.found).toEqual([]);
});

test('the check sees a head that lies on another', async ({ page }) => {
  await openGallery(page);
  const found = await page.evaluate(() => gallery.planted('34-minim-second'));
  expect(found.join()).toContain('head at');
  expect(found.join()).toContain('meets');
});
