import type { Browser } from 'playwright';
import type { VerovioToolkit } from 'verovio/esm';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { bundled } from './benchPage.ts';
import { median, ms, printTable, timesOf } from './figures.ts';
import type { PageHarness } from './pageHarness.ts';

declare global {
  var pageHarness: PageHarness;
}

const RUNS = 15;

/** Each with the time it should stay under, in ms. */
const CASES = [
  { what: 'first page', bars: 8, edit: false, target: '100' },
  { what: 'first page', bars: 200, edit: false, target: '' },
  { what: 'edit', bars: 16, edit: true, target: '50' },
  { what: 'edit', bars: 200, edit: true, target: '' },
] as const;

/** Prints what Write makes a teacher wait for, and Verovio's time to load the score and draw its first page. */
export const engravingPage = async (browser: Browser, toolkit: VerovioToolkit): Promise<void> => {
  const page = await browser.newPage();
  await page.route('**/*', route =>
    route.fulfill({ contentType: 'text/html', body: '<!doctype html><title>Drawing</title>' }),
  );
  await page.goto('http://localhost/');
  await page.addScriptTag({ content: await bundled('test/bench/pageHarness.ts') });
  const rows: string[][] = [];
  for (const { what, bars, edit, target } of CASES) {
    const times = await page.evaluate(
      ({ bars, runs, edit }) => (edit ? pageHarness.edits(bars, runs) : pageHarness.firstPage(bars, runs)),
      { bars, runs: RUNS, edit },
    );
    const xml = musicXml(await page.evaluate(bars => pageHarness.scoreFor(bars), bars));
    const theirs = median(
      timesOf(RUNS, () => {
        if (!toolkit.loadData(xml)) throw new Error('Verovio did not read the MusicXML');
        toolkit.renderToSVG(1);
      }),
    );
    const of = (part: 'reading' | 'score' | 'page'): number => median(times.map(t => t[part]));
    const whole = median(times.map(t => t.reading + t.score + t.page));
    rows.push([
      what,
      String(bars),
      `${String(times[0]?.drawn ?? 0)} of ${String(times[0]?.systems ?? 0)}`,
      ...[of('reading'), of('score'), of('page'), whole].map(ms),
      target,
      ms(theirs),
      ((of('score') + of('page')) / theirs).toFixed(2),
    ]);
  }
  await page.close();
  printTable(
    ['what', 'bars', 'systems drawn', 'read', 'engrave', 'page', 'together', 'target', 'Verovio', 'ratio'],
    rows,
  );
  console.log(`  Milliseconds, median of ${String(RUNS)} runs after three uncounted, all in Chromium, one part, as Write shows it.
  page: laying out all systems, drawing those in sight or changed, and the browser's layout of them.
  Verovio: loads the same score as MusicXML and draws its first page. ratio: (engrave + page) / Verovio.
`);
};
