import type { Page } from 'playwright';
import { serve } from '../../electron/loopback/server.ts';
import { type Struck, takeBytes } from '../tools/takeBytes.ts';
import { inChromium } from './benchPage.ts';
import { median, ms, printTable } from './figures.ts';

/** Strikes of a take: an idea of a minute, a long one, and twenty a second for all of the five minutes remembered. */
const SIZES = [600, 1500, 6000] as const;
const RUNS = 3;

/** A two-bar idea whose pitches never come again in the same way. */
const takeOf = (count: number): readonly Struck[] => {
  const idea = [0, 0.75, 1.5, 2, 3, 4, 4.5, 5.5, 6, 7];
  return Array.from({ length: count }, (_, i) => [
    (idea[i % 10] ?? 0) + 8 * Math.floor(i / 10),
    60 + ((i * i * 31 + i * 7) % 19),
  ]);
};

/** Waits until the page has done nothing long for a while. @returns the longest it stood still since, in ms */
const stoodStill = (page: Page): Promise<number> =>
  page.evaluate(async () => {
    await new Promise(resolve => setTimeout(resolve, 1500));
    return (window as unknown as { longTasks: number[] }).longTasks
      .splice(0)
      .reduce((most, one) => Math.max(most, one), 0);
  });

/** From a file handed over to its page, then a correction and its undo. */
const once = async (page: Page, buffer: Buffer): Promise<number[]> => {
  // What starting the app takes is another measure.
  await stoodStill(page);
  const since = await page.evaluate(() => performance.now());
  await page.locator('input[type=file]').setInputFiles({ name: 'long.mid', mimeType: 'audio/midi', buffer });
  await page.locator('.sheet .system svg').first().waitFor();
  const until = await page.evaluate(() => performance.now());
  const opening = await stoodStill(page);
  await page.locator('.sheet .vf-stavenote').nth(3).click();
  await stoodStill(page);
  await page.keyboard.press('Alt+ArrowRight');
  const moving = await stoodStill(page);
  await page.keyboard.press('Control+z');
  return [until - since, opening, moving, await stoodStill(page)];
};

/** Prints how long a long take needs to be a page, and how long the app stands still meanwhile. */
export const longTake = async (): Promise<void> => {
  const serving = await serve({ root: new URL('../../dist/renderer', import.meta.url).pathname, port: 0 });
  try {
    await inChromium(async browser => {
      const rows: string[][] = [];
      for (const count of SIZES) {
        const buffer = Buffer.from(takeBytes({ bpm: 96, click: true, strikes: takeOf(count) }));
        const found: number[][] = [];
        for (let run = 0; run < RUNS; run += 1) {
          const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
          const page = await context.newPage();
          await page.addInitScript(() => {
            localStorage.setItem('malletloom.firstSteps', 'over');
            const longTasks: number[] = [];
            Object.assign(window, { longTasks });
            new PerformanceObserver(list => {
              longTasks.push(...list.getEntries().map(entry => entry.duration));
            }).observe({ entryTypes: ['longtask'] });
          });
          await page.goto(serving.url);
          await page.locator('[data-pitch]').first().waitFor();
          found.push(await once(page, buffer));
          await context.close();
        }
        const column = (i: number): string => ms(median(found.map(one => one[i] ?? NaN)));
        const most = (i: number): string => ms(Math.max(...found.map(one => one[i] ?? NaN)));
        rows.push([String(count), column(0), most(1), most(2), most(3)]);
      }
      printTable(
        ['strikes', 'to its page, ms', 'stood still, most ms', 'at a correction', 'at its undo'],
        rows,
      );
      console.log('  (0: for less than the 50 ms that a browser counts)');
    });
  } finally {
    await serving.close();
  }
};
