import { expect, test } from 'playwright/test';
import { bundled } from '../bench/benchPage.ts';
import type { SheetHarness } from './sheetHarness.ts';

declare global {
  var sheetHarness: SheetHarness;
}

test('a page of 200 bars is drawn where it is seen, knows where everything stands, and redraws only what changed', async ({
  page,
}) => {
  await page.route('**/*', route => route.fulfill({ contentType: 'text/html', body: '<!doctype html>' }));
  await page.goto('http://localhost/');
  await page.addScriptTag({ content: await bundled('test/e2e/sheetHarness.ts') });
  const found = await page.evaluate(() => sheetHarness.run());
  expect(found.systems).toBeGreaterThan(30);
  expect(found.before).toBe(3);
  expect(found.heightsHold).toBe(true);
  // Half a pixel: the middle of a head is said before anything is measured.
  expect(found.worst).toBeLessThan(0.5);
  expect(found.redrawn).toBe(1);
  expect(found.keptSame).toBe(found.systems - 1);
  expect(found.changedHas).toBe('20');
});
