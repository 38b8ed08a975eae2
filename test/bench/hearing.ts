import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { wav16 } from '../../core/exchange/wav.ts';
import { createEar } from '../../core/hearing/ear.ts';
import { struckBars } from '../../core/hearing/hear.ts';
import { serve } from '../../electron/loopback/server.ts';
import { recordedPhrase } from '../hearing/recorded.ts';
import { inChromium } from './benchPage.ts';
import { median, ms, printTable, timesOf } from './figures.ts';

const ROOT = fileURLToPath(new URL('../../dist/renderer', import.meta.url));
const BLOWS = 24;
const blows = Array.from({ length: BLOWS }, (_, i) => ({
  at: 2 + i * 0.31 + (i % 3) * 0.05,
  midi: 77 + ([0, 4, 7, 9, 5, 2][i % 6] ?? 0),
  velocity: 90,
}));

/** Notes when each bar begins to move, on the page's clock. As text, for tsx would wrap its functions. */
const WATCH_BARS = `
  window.moved = [];
  const animate = Element.prototype.animate;
  Element.prototype.animate = function (...given) {
    if (this.hasAttribute('data-pitch')) window.moved.push(performance.now());
    return animate.apply(this, given);
  };`;

/** When each strike fell, on the page's clock, as the app keeps it by itself. */
const REMEMBERED = `(async () => {
  const answer = request => new Promise(done => { request.onsuccess = () => done(request.result); });
  const database = await answer(indexedDB.open('malletloom-desk'));
  const rows = await answer(database.transaction('desks').objectStore('desks').getAll());
  return rows.flatMap(row => row.record.memory.strikes.map(strike => strike.at * 1000));
})()`;

/** Prints how long a second of sound takes to hear, and how soon a bar that is struck in the room moves. */
export const hearing = async (): Promise<void> => {
  const sound = recordedPhrase(blows, 0.001);
  const seconds = sound.samples.length / sound.rate;
  const whole = timesOf(5, () => struckBars(sound)).map(time => time / seconds);
  const waits: number[] = [];
  const live = timesOf(5, () => {
    const ear = createEar(sound.rate);
    waits.length = 0;
    for (let from = 0; from < sound.samples.length; from += 256) {
      const { atOnce } = ear.hear(sound.samples.subarray(from, from + 256));
      for (const bar of atOnce) waits.push(((from + 256) / sound.rate - bar.at) * 1000);
    }
  }).map(time => time / seconds);
  printTable(
    ['a second of sound', 'median ms', 'worst ms', 'times real time'],
    (
      [
        ['a whole recording', whole],
        ['sound that goes on', live],
      ] as const
    ).map(([name, times]) => [
      name,
      ms(median(times)),
      ms(Math.max(...times)),
      (1000 / median(times)).toFixed(0),
    ]),
  );
  console.log(
    `  Sound the ear needs after a blow before it shows the bar: median ${ms(median(waits))} ms, most ${ms(Math.max(...waits))} ms.`,
  );

  const folder = mkdtempSync(join(tmpdir(), 'hearing-'));
  const file = join(folder, 'room.wav');
  writeFileSync(file, wav16([sound.samples], sound.rate));
  const serving = await serve({ root: ROOT, port: 0 });
  try {
    await inChromium(
      async browser => {
        const page = await browser.newPage();
        await page.addInitScript({ content: WATCH_BARS });
        await page.goto(serving.url);
        await page.getByRole('button', { name: 'Listen to the bars in the room' }).click();
        await page.waitForTimeout((seconds + 3) * 1000);
        const moved: number[] = await page.evaluate('window.moved');
        const struck: number[] = await page.evaluate(REMEMBERED);
        const late = struck.map((at, i) => (moved[i] ?? Number.NaN) - at);
        console.log(
          `  In the app, ${String(struck.length)} of ${String(BLOWS)} strikes remembered, ${String(moved.length)} bars moved.
  From the blow, as the app dates it, until its bar begins to move: median ${ms(median(late))} ms, most ${ms(Math.max(...late))} ms.
  The blow is dated by the audio clock and the latencies Chromium tells; a fake microphone plays the file, and what a real
  one adds before Chromium knows of it is in no figure. Painting comes after, as under strike.`,
        );
      },
      [
        '--use-fake-device-for-media-stream',
        '--use-fake-ui-for-media-stream',
        `--use-file-for-fake-audio-capture=${file}%noloop`,
      ],
    );
  } finally {
    await serving.close();
    rmSync(folder, { recursive: true, force: true });
  }
};
