import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright';
import { serve } from '../../electron/loopback/server.ts';
import { bundled, inChromium } from './benchPage.ts';
import { median, ms, printTable } from './figures.ts';
import type { StrikeHarness, StrikeTimes } from './strikeHarness.ts';

declare global {
  var strikes: StrikeHarness;
}

const ROOT = fileURLToPath(new URL('../../dist/renderer', import.meta.url));
const STRIKES = 30;
const FIRST_STRIKES = 10;
/** Time for every bar's stroke to be made ready after the sound began, in ms. */
const READY = 8000;

const buildWhenMissing = (): void => {
  if (existsSync(`${ROOT}/index.html`)) return;
  console.log('  dist/renderer is missing: building it.');
  const done = spawnSync('npx', ['vite', 'build', '--logLevel', 'warn'], {
    stdio: 'inherit',
    shell: process.platform === 'win32',
  });
  if (done.status !== 0) throw new Error('the app could not be built');
};

/** The app with a pad plugged in and its sound just begun by a key that plays no bar. */
const openAwake = async (browser: Browser, url: string, script: string): Promise<[Page, string]> => {
  const page = await browser.newPage();
  await page.addInitScript({ content: script });
  await page.goto(url);
  await page.getByRole('button', { name: 'Catch that' }).waitFor();
  const id = await page.evaluate(() => strikes.midi.plug('Pad 25'));
  await page.getByText('“Pad 25”').first().waitFor({ state: 'attached' });
  await page.keyboard.press('Shift');
  await page.evaluate(() => strikes.awake());
  return [page, id];
};

const row = (name: string, times: readonly number[]): string[] => [
  name,
  String(times.length),
  ms(median(times)),
  ms(Math.max(...times)),
];

/** `frame` is how long a frame lasted here, in ms: the ratio's one. */
const rowsOf = (name: string, times: readonly StrikeTimes[], frame: number): string[][] =>
  [
    row(
      `${name}: strike to sound's start call`,
      times.map(t => t.sound),
    ),
    row(
      `${name}: strike until the app is done with it`,
      times.map(t => t.handled),
    ),
    row(
      `${name}: strike to first frame with animation`,
      times.map(t => t.runs),
    ),
    row(
      `${name}: strike to the next frame after it`,
      times.map(t => t.next),
    ),
    row(
      `${name}: strike to first frame with bar moved`,
      times.map(t => t.moved),
    ),
  ].map(cells => [...cells, (Number(cells[2]) / frame).toFixed(2)]);

/** Prints how soon a struck pad is seen and heard. */
export const strike = async (): Promise<void> => {
  buildWhenMissing();
  const script = await bundled('test/bench/strikeHarness.ts');
  const serving = await serve({ root: ROOT, port: 0 });
  try {
    await inChromium(async browser => {
      const first: StrikeTimes[] = [];
      for (let i = 0; i < FIRST_STRIKES; i += 1) {
        const [page, id] = await openAwake(browser, serving.url, script);
        first.push(...(await page.evaluate(id => strikes.strike(id, 1), id)));
        await page.close();
      }
      const [page, id] = await openAwake(browser, serving.url, script);
      await page.waitForTimeout(READY);
      const times = await page.evaluate(({ id, count }) => strikes.strike(id, count), { id, count: STRIKES });
      const frame = await page.evaluate(() => strikes.framePeriod());
      const { base, output, rate } = await page.evaluate(() => strikes.latency());
      printTable(
        ['what', 'strikes', 'median', 'worst', 'in frames'],
        [...rowsOf('ready', times, frame), ...rowsOf('first', first, frame)],
      );
      console.log(`  Milliseconds on the page's clock (to 0.1 ms). One frame lasted ${ms(frame)} ms here; "in frames" is the median.
  A strike begins when a fake Web MIDI port sends its event: no pad, cable or driver is in any figure.
  ready: xylophone, strokes made beforehand (${String(READY / 1000)} s after the sound began). first: the first strike in a
  page whose sound began a moment ago, so that the stroke may have to be made first.
  A xylophone's strokes are the quickest to make (see sound): a first strike elsewhere may take longer.
  The page was at rest before each strike; Chromium may then begin a frame sooner than its period.
  Picture: up to the frame's script; painting, compositing and the screen itself come after and are not
  measured (headless, no screen). By the next frame the one before was
  handed to the compositor.
  Sound: up to AudioBufferSourceNode.start. What follows is the context's own latency, by its own word:
  baseLatency ${ms(base)} ms + outputLatency ${ms(output)} ms at ${String(rate)} Hz. There is no sound card here: that is
  Chromium's silent output, and says nothing of a real one.`);
    });
  } finally {
    await serving.close();
  }
};
