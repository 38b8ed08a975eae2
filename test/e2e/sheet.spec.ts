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
  // Laid out in slices it is the same page, nothing is changed before the end, and no slice is more than a bar or a
  // system: so twice the bars are twice the slices.
  const [short, long] = await page.evaluate(() => [100, 200].map(bars => sheetHarness.inSlices(bars)));
  expect([short?.same, long?.same, short?.early, long?.early]).toEqual([true, true, 0, 0]);
  expect(short?.slices).toBeGreaterThan(100);
  expect((long?.slices ?? 0) / (short?.slices ?? 1)).toBeCloseTo(2, 1);
  // Its beginning may be seen as soon as it fills the window, and stays where it stands when the rest is there.
  const early = await page.evaluate(() => sheetHarness.begun(200, 600));
  expect(early).toMatchObject({
    times: 1,
    stays: true,
    drawn: true,
    svgs: 0,
    heads: true,
    strangers: 0,
    same: true,
  });
  expect(early.placed).toBeGreaterThanOrEqual(600);
  expect(early.placed).toBeLessThan(800);
  expect(Math.abs(early.guessed - 1)).toBeLessThan(0.1);
  expect(early.share).toBeLessThan(0.85);
  // A page lower than the window has no beginning of its own.
  expect(await page.evaluate(() => sheetHarness.begun(4, 6000))).toMatchObject({ times: 0, same: true });
});
