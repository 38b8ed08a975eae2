import type { Page } from 'playwright';
import { serve } from '../../electron/loopback/server.ts';
import { takeBytes } from '../tools/takeBytes.ts';
import { inChromium } from './benchPage.ts';
import { median, ms, printTable } from './figures.ts';

/** In the page: presses a key and waits for the picture after the step was taken. */
const TIMER = `window.timeKey = key => new Promise(resolve => {
  const undo = () => document.querySelector('.history button')?.textContent;
  const before = undo();
  const start = performance.now();
  window.dispatchEvent(new KeyboardEvent('keydown', { key, altKey: true, bubbles: true }));
  const look = () => {
    if (undo() === before) setTimeout(look, 0);
    else requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - start), 0));
  };
  look();
});`;

const timeKey = (page: Page, key: string): Promise<number> =>
  page.evaluate(`window.timeKey(${JSON.stringify(key)})`);

/** Prints how long an edit takes in the app itself, up to the next picture, by how long the take is. */
export const editing = async (): Promise<void> => {
  const serving = await serve({ root: new URL('../../dist/renderer', import.meta.url).pathname, port: 0 });
  const rows: string[][] = [];
  await inChromium(async browser => {
    const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
    await page.addInitScript(TIMER);
    for (const bars of [8, 16, 64, 200]) {
      await page.goto(serving.url);
      const strikes = Array.from({ length: bars }, (_, b) =>
        [0, 0.75, 1.5, 2, 3].map((x, i) => [b * 4 + x, 60 + ((i * i * 31 + b * 7) % 19)] as const),
      ).flat();
      await page.locator('input[type=file]').setInputFiles({
        name: 'idea.mid',
        mimeType: 'audio/midi',
        buffer: takeBytes({ bpm: 100, click: true, strikes }),
      });
      await page.locator('.score-page .system svg').first().waitFor();
      await page.waitForTimeout(600);
      await page.locator('.vf-stavenote .hit').nth(3).click();
      const pitches: number[] = [];
      const pins: number[] = [];
      for (let i = 0; i < 10; i++) {
        pitches.push(await timeKey(page, i % 2 === 0 ? 'ArrowUp' : 'ArrowDown'));
        pins.push(await timeKey(page, i % 2 === 0 ? 'ArrowRight' : 'ArrowLeft'));
      }
      const drawn = await page
        .locator('.score-page .system svg.drawn, .score-page .drawn .system svg')
        .count();
      const all = await page.locator('.score-page .drawn .system').count();
      rows.push([String(bars), ms(median(pitches)), ms(median(pins)), `${String(drawn)} of ${String(all)}`]);
    }
  });
  await serving.close();
  printTable(['bars', 'a pitch, ms', 'a place, read anew, ms', 'systems drawn'], rows);
};
