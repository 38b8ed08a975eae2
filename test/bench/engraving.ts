import { readFileSync } from 'node:fs';
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { musicXml } from '../../core/exchange/musicXml.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';
import { IDEA } from '../exchange/pieces.ts';
import { bundled, inChromium } from './benchPage.ts';
import type { DrawHarness } from './drawHarness.ts';
import { engravingPage } from './engravingPage.ts';
import { median, ms, printTable, timesOf } from './figures.ts';
import { planOf, type Size, SIZES } from './pieces.ts';

declare global {
  var drawHarness: DrawHarness;
}

const RUNS = 15;
const LARGEST: Size = { bars: 32, parts: 4 };

const verovioVersion = (): string => {
  const about = readFileSync(new URL('../../node_modules/verovio/package.json', import.meta.url), 'utf8');
  return (JSON.parse(about) as { readonly version: string }).version;
};

const noteCount = (score: Score): number =>
  score.parts
    .flatMap(part => part.bars.flatMap(bar => bar.symbols))
    .reduce((sum, symbol) => sum + symbol.pitches.length, 0);

/** Median ms for Verovio to load the MusicXML and to render every page; refuses when notes are missing. */
const byVerovio = (toolkit: VerovioToolkit, score: Score, runs = RUNS): number => {
  const xml = musicXml(score);
  let heads = 0;
  const time = median(
    timesOf(runs, () => {
      if (!toolkit.loadData(xml)) throw new Error('Verovio did not read the MusicXML');
      const pages = Array.from({ length: toolkit.getPageCount() }, (_, i) => toolkit.renderToSVG(i + 1));
      heads = pages.reduce((sum, svg) => sum + (svg.match(/class="note( |")/g)?.length ?? 0), 0);
    }),
  );
  const wanted = noteCount(score);
  if (heads !== wanted) throw new Error(`Verovio drew ${String(heads)} of ${String(wanted)} notes`);
  return time;
};

/** Prints what engraving and drawing take, and what Verovio takes for the same scores. */
export const engraving = async (): Promise<void> => {
  const toolkit = new VerovioToolkit(await createVerovioModule());
  // As wide as ours by the height of a stave: 900 px to 40 px is 1620 to Verovio's 72, and its margins.
  toolkit.setOptions({ pageWidth: 1720, pageMarginLeft: 50, pageMarginRight: 50 });
  const script = await bundled('test/bench/drawHarness.ts');
  const rows: string[][] = [];
  await inChromium(async browser => {
    const page = await browser.newPage();
    await page.route('**/*', route =>
      route.fulfill({ contentType: 'text/html', body: '<!doctype html><title>Drawing</title>' }),
    );
    await page.goto('http://localhost/');
    await page.addScriptTag({ content: script });
    // Neither side is to be clocked while its engine still compiles it.
    await page.evaluate(size => drawHarness.draw(size, 4), LARGEST);
    byVerovio(toolkit, scoreOfPlan(IDEA, planOf(LARGEST), 'Idea', 'Wren'), 4);
    await engravingPage(browser, toolkit);
    for (const size of SIZES) {
      const plan = planOf(size);
      const score = scoreOfPlan(IDEA, plan, 'Idea', 'Wren');
      if (score.barCount !== size.bars) throw new Error(`${String(score.barCount)} bars instead`);
      const core = median(timesOf(RUNS, () => scoreOfPlan(IDEA, plan, 'Idea', 'Wren')));
      const drawn = await page.evaluate(({ size, runs }) => drawHarness.draw(size, runs), {
        size,
        runs: RUNS,
      });
      const notes = noteCount(score);
      if (drawn.heads < notes) throw new Error(`only ${String(drawn.heads)} heads of ${String(notes)} drawn`);
      const drawing = median(drawn.drawing);
      const theirs = byVerovio(toolkit, score);
      rows.push([
        ...[size.parts, size.bars, notes, drawn.systems].map(String),
        ...[core, core / size.bars, drawing, median(drawn.laidOut), theirs].map(ms),
        ((core + drawing) / theirs).toFixed(2),
      ]);
    }
  });
  printTable(
    ['parts', 'bars', 'notes', 'systems', 'engrave', 'a bar', 'draw', 'draw+layout', 'Verovio', 'ratio'],
    rows,
  );
  console.log(`  Milliseconds, median of ${String(RUNS)} runs after one uncounted; all were warmed up on the largest score before.
  engrave: scoreOfPlan in Node, from idea and plan to the score; a bar: the same for each bar.
  draw: drawScore in Chromium, 900 px wide, fonts ready, SVG in the document; draw+layout: and the
  browser's layout of it. Painting is in neither. Both are clocked to 0.1 ms.
  Verovio ${verovioVersion()} (WebAssembly, in Node): reads our MusicXML and writes every page as SVG text, on
  a page as wide for the height of its stave. ratio: (engrave + draw) / Verovio; below 1 is faster.
  The two do not do the same: Verovio parses XML and builds no document; ours builds one and parses nothing.`);
};
