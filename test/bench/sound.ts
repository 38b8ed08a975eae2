import { INSTRUMENT_IDS, INSTRUMENTS } from '../../core/instruments/instruments.ts';
import type { SoundingEvent } from '../../core/playback/events.ts';
import { renderStroke } from '../../core/playback/renderStroke.ts';
import { VELOCITY_OF } from '../../core/plan/dynamics.ts';
import { UNMARKED } from '../../core/playback/loudness.ts';
import { openSoundPage, RATE, renderIn } from '../e2e/soundPage.ts';
import { integratedLoudness, truePeak } from '../tools/loudnessMeter.ts';
import { printTable } from './figures.ts';
import { loudnessTable, recordingTable } from './soundTables.ts';

const strokes = (): void => {
  for (const id of INSTRUMENT_IDS) {
    const { low, high, soundsAbove } = INSTRUMENTS[id];
    const times: number[] = [];
    const atOnce: number[] = [];
    for (let written = low; written <= high; written += 1) {
      const start = performance.now();
      renderStroke({ instrument: id, pitch: written + soundsAbove, velocity: 80 }, RATE);
      times.push(performance.now() - start);
      const short = performance.now();
      renderStroke({ instrument: id, pitch: written + soundsAbove, velocity: 80 }, RATE, 0.6);
      atOnce.push(performance.now() - short);
    }
    times.sort((a, b) => a - b);
    const middle = times[Math.floor(times.length / 2)] ?? 0;
    const most = times.at(-1) ?? 0;
    console.log(
      `  stroke, ${id}: median ${middle.toFixed(1)} ms, longest ${most.toFixed(1)} ms; its beginning, as a live strike takes it: longest ${Math.max(...atOnce).toFixed(1)} ms`,
    );
  }
};

/** Four parts of quavers at crotchet 120, 32 bars of 4/4: 64 s of music. */
const fourParts = (): SoundingEvent[] =>
  INSTRUMENT_IDS.flatMap(instrument => {
    const { low, soundsAbove } = INSTRUMENTS[instrument];
    return Array.from({ length: 256 }, (_, i) => ({
      instrument,
      seconds: i * 0.25,
      duration: 0.25,
      pitch: low + soundsAbove + 5 + ((i * 5) % 19),
      velocity: 70 + ((i * 7) % 40),
    }));
  }).sort((a, b) => a.seconds - b.seconds);

const offline = async (): Promise<void> => {
  const { browser, page } = await openSoundPage();
  try {
    const music = { events: fourParts(), duration: 64 };
    for (const swells of [0, 5]) {
      const took = await page.evaluate(
        async ({ music, rate, swells }) => {
          harness.sound.setMotor(swells);
          const start = performance.now();
          await harness.sound.renderOffline(music, rate);
          return (performance.now() - start) / 1000;
        },
        { music, rate: RATE, swells },
      );
      const ratio = (music.duration / took).toFixed(0);
      console.log(
        `  offline, 4 parts of 32 bars (64 s)${swells === 0 ? '' : ', motor on'}: ${took.toFixed(2)} s, ${ratio} times real time`,
      );
    }
  } finally {
    await browser.close();
  }
};

/** What a piece comes out as: loudness and peaks of four parts at one velocity, through the desk. */
const through = async (): Promise<void> => {
  const { browser, page } = await openSoundPage();
  try {
    const rows: string[][] = [];
    for (const [mark, velocity] of [['none', UNMARKED], ...Object.entries(VELOCITY_OF)] as const) {
      const events = fourParts()
        .filter(event => event.seconds < 12)
        .map(event => ({ ...event, velocity }));
      const { left, right } = await renderIn(page, { events, duration: 12 }, RATE);
      rows.push([
        mark,
        String(velocity),
        integratedLoudness([left, right], RATE).toFixed(1),
        truePeak([left, right]).toFixed(1),
      ]);
    }
    printTable(['mark', 'velocity', 'LUFS', 'dBTP'], rows);
    console.log('  Four parts of quavers at crotchet 120, as the WAV has them.');
  } finally {
    await browser.close();
  }
};

/** Prints how long strokes and a whole piece take to render, and what comes out. */
export const sound = async (): Promise<void> => {
  strokes();
  await offline();
  await through();
  loudnessTable();
  recordingTable();
};
