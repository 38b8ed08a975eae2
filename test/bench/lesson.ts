import type { Browser, Page } from 'playwright';
import { serve } from '../../electron/loopback/server.ts';
import { keepCard } from '../e2e/app.ts';
import { openTake } from '../e2e/takeFile.ts';
import { installFakeWebMidi } from '../fakes/webMidi.ts';
import { inChromium } from './benchPage.ts';
import { median, ms, printTable } from './figures.ts';

/** Starts of the app that are measured, each in a browser that was never there, and again in the same one. */
const STARTS = 7;
/** Seconds of a piece of four parts that are watched while it plays. */
const WATCHED = 12;
/** Strikes a second, and for how many seconds, through a fake MIDI port. */
const RATE = 20;
const PLAYED = 60;

/** A value that so many of a hundred do not exceed. */
const percentile = (times: readonly number[], of: number): number =>
  [...times].sort((a, b) => a - b)[Math.min(times.length - 1, Math.floor((times.length * of) / 100))] ?? NaN;
const row = (name: string, times: readonly number[]): string[] => [
  name,
  String(times.length),
  ms(median(times)),
  ms(percentile(times, 99)),
  ms(Math.max(...times)),
];

/** tsx names every function it meets by a call that a page does not know. */
const NAMES = 'globalThis.__name ??= named => named;';

/** From the address to bars that can be struck, on the page's own clock. */
const startOf = async (page: Page, url: string): Promise<number> => {
  await page.goto(url, { waitUntil: 'commit' });
  return page.evaluate(
    () =>
      new Promise<number>(resolve => {
        const look = (): void => {
          if (document.querySelector('[data-pitch]') === null) requestAnimationFrame(look);
          // After the picture that has them.
          else
            requestAnimationFrame(() =>
              setTimeout(() => {
                resolve(performance.now());
              }, 0),
            );
        };
        look();
      }),
  );
};

const starts = async (browser: Browser, url: string): Promise<string[][]> => {
  const first: number[] = [];
  const again: number[] = [];
  for (let i = 0; i < STARTS; i += 1) {
    const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
    const page = await context.newPage();
    await page.addInitScript(NAMES);
    first.push(await startOf(page, url));
    again.push(await startOf(page, url));
    await context.close();
  }
  return [row('to bars that can be struck, first visit', first), row('the same, next visit', again)];
};

/** How far apart pictures are in the page, for so many seconds, in ms. */
const frames = (page: Page, seconds: number): Promise<number[]> =>
  page.evaluate(
    length =>
      new Promise<number[]>(resolve => {
        const gaps: number[] = [];
        let last = performance.now();
        const end = last + length * 1000;
        const look = (now: number): void => {
          gaps.push(now - last);
          last = now;
          if (now < end) requestAnimationFrame(look);
          else resolve(gaps.slice(1));
        };
        requestAnimationFrame(look);
      }),
    seconds,
  );

const openApp = async (browser: Browser, url: string): Promise<Page> => {
  const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
  await page.addInitScript(NAMES);
  await page.addInitScript(installFakeWebMidi as () => void);
  await page.addInitScript(() => {
    localStorage.setItem('malletloom.firstSteps', 'over');
  });
  await page.goto(url);
  await page.getByRole('button', { name: 'Catch that' }).waitFor();
  return page;
};

/** Pictures while four parts play and the cursor moves; beside them those of the same page at rest. */
const playing = async (browser: Browser, url: string): Promise<string[][]> => {
  const page = await openApp(browser, url);
  const strikes = Array.from({ length: 32 }, (_, i) => [i / 2, 72 + ((i * 5) % 12)] as const);
  await openTake(page, { bpm: 100, click: true, strikes });
  await page.getByRole('button', { name: 'Use this motif' }).click();
  for (const card of ['Second part', 'Canon', 'Imitation']) await keepCard(page, card);
  const rest = await frames(page, 3);
  await page.getByRole('button', { name: 'Hear', exact: true }).click();
  await page.locator('.cursor-line').first().waitFor();
  const played = await frames(page, WATCHED);
  await page.close();
  return [row('a picture, four parts at rest', rest), row('a picture, four parts playing', played)];
};

/** Twenty strikes a second: every one remembered, and the pictures meanwhile. */
const striking = async (browser: Browser, url: string): Promise<string[][]> => {
  const page = await openApp(browser, url);
  const heap = (): Promise<number> =>
    page.evaluate(
      () => (performance as unknown as { memory: { usedJSHeapSize: number } }).memory.usedJSHeapSize / 1e6,
    );
  const before = await heap();
  await page.evaluate(
    ({ rate }) => {
      const port = window.fakeMidi.plug('Pad 25');
      let i = 0;
      const timer = setInterval(() => {
        window.fakeMidi.send(port, [0x90, 60 + ((i * 7) % 25), 90], performance.now());
        i += 1;
      }, 1000 / rate);
      Object.assign(window, { endStrikes: () => (clearInterval(timer), i) });
    },
    { rate: RATE },
  );
  const gaps = await frames(page, PLAYED);
  const sent = await page.evaluate(() => (window as unknown as { endStrikes: () => number }).endStrikes());
  const said = await page.locator('body').innerText();
  const counted = /last phrase: (\d+) strikes/.exec(said.replaceAll(',', ''))?.[1] ?? '?';
  console.log(
    `  ${String(sent)} strikes in ${String(PLAYED)} s; the foot counts ${counted} in the last phrase; heap ${ms(before)} MB before, ${ms(await heap())} MB after.`,
  );
  await page.close();
  return [row(`a picture, ${String(RATE)} strikes a second`, gaps)];
};

/** Prints what a lesson feels of the app's speed: starting, playing a piece, striking for long. */
export const lesson = async (): Promise<void> => {
  const serving = await serve({ root: new URL('../../dist/renderer', import.meta.url).pathname, port: 0 });
  try {
    await inChromium(
      async browser => {
        const rows = [
          ...(await starts(browser, serving.url)),
          ...(await playing(browser, serving.url)),
          ...(await striking(browser, serving.url)),
        ];
        printTable(['what, in ms', 'times', 'median', '99 %', 'worst'], rows);
      },
      ['--enable-precise-memory-info'],
    );
  } finally {
    await serving.close();
  }
};
