import type { Browser, Page } from 'playwright';
import { serve } from '../../electron/loopback/server.ts';
import { MEMORY_SPAN } from '../../core/take/memory.ts';
import { keepCard } from '../e2e/app.ts';
import { openTake } from '../e2e/takeFile.ts';
import { installFakeWebMidi } from '../fakes/webMidi.ts';
import { inChromium } from './benchPage.ts';
import { median, ms, printTable } from './figures.ts';

/** Starts of the app that are measured, each in a browser that was never there, and again in the same one. */
const STARTS = 7;
/** Seconds of a piece of four parts that are watched while it plays. */
const WATCHED = 12;
/** Strikes a second, and for how many minutes, through a fake MIDI port. */
const RATE = 20;
const PLAYED = 1;
/** The same, for as long as somebody may go on: twice as long as strikes are remembered. */
const PLAYED_LONG = 10;

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

/** Twenty strikes a second: every one told to the app and remembered, the pictures meanwhile, and what is held. */
const striking = async (browser: Browser, url: string, minutes: number): Promise<string[][]> => {
  const page = await openApp(browser, url);
  const devtools = await page.context().newCDPSession(page);
  /** What is still held once the garbage is collected, in MB. */
  const held = async (): Promise<string> => {
    await devtools.send('HeapProfiler.collectGarbage');
    return ms(
      await page.evaluate(
        () => (performance as unknown as { memory: { usedJSHeapSize: number } }).memory.usedJSHeapSize / 1e6,
      ),
    );
  };
  const heap = [await held()];
  await page.evaluate(
    ({ rate }) => {
      const port = window.fakeMidi.plug('Pad 25');
      const sentAt: number[] = [];
      const timer = setInterval(() => {
        const pitch = 60 + ((sentAt.length * 7) % 25);
        sentAt.push(performance.now());
        window.fakeMidi.send(port, [0x90, pitch, 90], sentAt.at(-1) ?? 0);
      }, 1000 / rate);
      Object.assign(window, { endStrikes: () => (clearInterval(timer), sentAt) });
    },
    { rate: RATE },
  );
  const rows: string[][] = [];
  for (let minute = 1; minute <= minutes; minute += 1) {
    const gaps = await frames(page, 60);
    rows.push(row(`a picture, ${String(RATE)} strikes a second, minute ${String(minute)}`, gaps));
    heap.push(await held());
  }
  const sent = await page.evaluate(() => (window as unknown as { endStrikes: () => number[] }).endStrikes());
  const said = await page.locator('.catch-words').innerText();
  const counted = /phrase: (\d+) strikes/.exec(said)?.[1] ?? '?';
  // What is older than the memory reaches back is forgotten, and nothing else.
  const since = (sent.at(-1) ?? 0) - MEMORY_SPAN * 1000;
  console.log(
    `  ${String(sent.length)} strikes in ${String(minutes)} min, ${String(sent.filter(at => at >= since).length)} of them in the last five; the foot counts ${counted}. Held before and after each minute, MB: ${heap.join(', ')}.`,
  );
  await page.close();
  return rows;
};

const measured = async (measure: (browser: Browser, url: string) => Promise<string[][]>): Promise<void> => {
  const serving = await serve({ root: new URL('../../dist/renderer', import.meta.url).pathname, port: 0 });
  try {
    await inChromium(
      async browser => {
        printTable(['what, in ms', 'times', 'median', '99 %', 'worst'], await measure(browser, serving.url));
      },
      ['--enable-precise-memory-info'],
    );
  } finally {
    await serving.close();
  }
};

/** Prints what a lesson feels of the app's speed: starting, playing a piece, striking for a minute. */
export const lesson = (): Promise<void> =>
  measured(async (browser, url) => [
    ...(await starts(browser, url)),
    ...(await playing(browser, url)),
    ...(await striking(browser, url, PLAYED)),
  ]);

/** Prints the pictures and the memory of ten minutes of strikes. */
export const long = (): Promise<void> => measured((browser, url) => striking(browser, url, PLAYED_LONG));
