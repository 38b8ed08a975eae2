import { build } from 'esbuild';
import { chromium } from 'playwright/test';
import { INSTRUMENT_IDS, INSTRUMENTS } from '../../core/parts/instruments.ts';
import type { SoundingEvent } from '../../core/playback/events.ts';
import { renderStroke } from '../../core/playback/renderStroke.ts';

const RATE = 48000;

const strokes = (): void => {
  for (const id of INSTRUMENT_IDS) {
    const { low, high, soundsAbove } = INSTRUMENTS[id];
    const times: number[] = [];
    for (let written = low; written <= high; written += 1) {
      const start = performance.now();
      renderStroke(id, written + soundsAbove, 80, RATE);
      times.push(performance.now() - start);
    }
    times.sort((a, b) => a - b);
    const middle = times[Math.floor(times.length / 2)] ?? 0;
    const most = times.at(-1) ?? 0;
    console.log(`  stroke, ${id}: median ${middle.toFixed(1)} ms, longest ${most.toFixed(1)} ms`);
  }
};

/** Four parts of quavers at crotchet 120, 32 bars of 4/4: 64 s of music. */
const fourParts = (): SoundingEvent[] =>
  INSTRUMENT_IDS.flatMap(instrument => {
    const { low, soundsAbove } = INSTRUMENTS[instrument];
    return Array.from({ length: 256 }, (_, i) => ({
      instrument,
      at: i * 0.25,
      duration: 0.25,
      pitch: low + soundsAbove + 5 + ((i * 5) % 19),
      velocity: 70 + ((i * 7) % 40),
    }));
  }).sort((a, b) => a.at - b.at);

const offline = async (): Promise<void> => {
  const bundle = await build({
    entryPoints: ['test/e2e/soundHarness.ts'],
    bundle: true,
    write: false,
    format: 'iife',
    target: 'chrome120',
  });
  const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
  try {
    const page = await browser.newPage();
    await page.route('**/*', route => route.fulfill({ contentType: 'text/html', body: '<!doctype html>' }));
    await page.goto('http://localhost/');
    await page.addScriptTag({ content: bundle.outputFiles[0]?.text ?? '' });
    const performance = { events: fourParts(), length: 64 };
    const took = await page.evaluate(
      async ({ performance: music, rate }) => {
        const start = globalThis.performance.now();
        await (
          globalThis as unknown as {
            harness: { sound: { renderOffline(of: typeof music, at: number): Promise<unknown> } };
          }
        ).harness.sound.renderOffline(music, rate);
        return (globalThis.performance.now() - start) / 1000;
      },
      { performance, rate: RATE },
    );
    const ratio = (performance.length / took).toFixed(0);
    console.log(`  offline, 4 parts of 32 bars (64 s): ${took.toFixed(2)} s, ${ratio} times real time`);
  } finally {
    await browser.close();
  }
};

/** Prints how long strokes and a whole piece take to render. */
export const sound = async (): Promise<void> => {
  strokes();
  await offline();
};
