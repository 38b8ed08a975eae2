import { expect, test } from 'playwright/test';
import { killBrowsers } from '../torture/browsers.ts';

// The short form of `npm run torture`: a browser killed in the middle of work stands again where it was safe.
test('no step that was said to be safe is lost when the browser is killed', async () => {
  test.setTimeout(180_000);
  const report = await killBrowsers(4, 5);
  expect(report.steps).toBeGreaterThanOrEqual(4);
  expect(report.safe).toBeGreaterThan(1);
  expect(report.lost).toEqual([]);
});
