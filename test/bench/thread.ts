import { metre } from '../../core/foundation/metre.ts';
import type { Take } from '../../core/take/take.ts';
import { played } from '../takes/written.ts';
import { bundled, inChromium } from './benchPage.ts';
import { median, ms, printTable } from './figures.ts';
import type { ThreadHarness } from './threadHarness.ts';

/** A two-bar idea played over so many bars. */
const takeOf = (bars: number, click: boolean): Take => {
  const idea = [0, 0.75, 1.5, 2, 3, 4, 4.5, 5.5, 6, 7];
  const at = Array.from({ length: bars / 2 }, (_, b) => idea.map(x => x + 8 * b)).flat();
  const off = at.map((_, i) => ((i * 7919) % 61) - 30);
  const pitch = at.map((_, i) => 60 + ((i * i * 31 + i * 7) % 19));
  return played({ at, off, pitch, click, tempo: 96, metre: metre(4, 4) });
};

declare const threadHarness: ThreadHarness;

/** Prints how long reading takes in the browser, on the page's own thread and on the reader's, and how long the page stands still. */
export const thread = async (): Promise<void> => {
  const worker = await bundled(new URL('../../renderer/reading/readerWorker.ts', import.meta.url).pathname);
  const page = await bundled(new URL('./threadHarness.ts', import.meta.url).pathname);
  await inChromium(async browser => {
    const tab = await browser.newPage();
    await tab.goto('about:blank');
    await tab.addScriptTag({ content: page });
    const rows: string[][] = [];
    for (const [bars, click] of [
      [8, true],
      [8, false],
      [64, true],
      [64, false],
      [200, false],
    ] as const) {
      const runs = bars > 64 ? 5 : 25;
      const found = await tab.evaluate(
        async ([take, code, count]) => threadHarness.measure(take, code, count),
        [takeOf(bars, click), worker, runs] as const,
      );
      rows.push([
        `${String(bars)} bars ${click ? 'with a click' : 'without'}`,
        ms(median(found.here)),
        ms(median(found.there)),
        ms(Math.max(...found.still)),
        ms(median(found.idle)),
      ]);
    }
    printTable(
      [
        '',
        'on the page ms',
        'on its own thread ms',
        'page stands still, most ms',
        'the same with nothing to do',
      ],
      rows,
    );
  });
};
