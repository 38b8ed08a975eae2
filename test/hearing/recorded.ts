import { readdirSync, readFileSync } from 'node:fs';
import { type Recording, readWav } from '../../core/hearing/readWav.ts';
import { noise, type TestBlow } from './bars.ts';

const FOLDER = new URL('../../node_modules/tonejs-instrument-xylophone-wav/', import.meta.url);
const STEPS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const RATE = 44100;

/** Recorded bars of a real xylophone (npm tonejs-instrument-xylophone-wav, MIT; tests only), by sounding MIDI number. */
export const recordedBars = (): ReadonlyMap<number, Recording> => {
  const bars = new Map<number, Recording>();
  for (const file of readdirSync(FOLDER)) {
    const name = /^([A-G])(\d)\.wav$/.exec(file);
    if (name === null) continue;
    const read = readWav(new Uint8Array(readFileSync(new URL(file, FOLDER))), file);
    if (read.ok) bars.set(12 * (Number(name[2]) + 1) + (STEPS[name[1] ?? ''] ?? 0), read.value);
  }
  return bars;
};

/** A phrase from the nearest recorded bars, each played faster or slower to its pitch. @param hiss loudness of noise */
export const recordedPhrase = (blows: readonly TestBlow[], hiss: number): Recording => {
  const bars = recordedBars();
  const random = noise(3);
  const length = Math.round((Math.max(...blows.map(blow => blow.at)) + 1.5) * RATE);
  const samples = Float32Array.from({ length }, () => hiss * random());
  for (const { at, midi, velocity = 90 } of blows) {
    const nearest = [...bars.keys()].reduce((a, b) => (Math.abs(b - midi) < Math.abs(a - midi) ? b : a));
    const bar = bars.get(nearest);
    if (bar === undefined) throw new Error('no recorded bars');
    const peak = bar.samples.reduce((most, s) => Math.max(most, Math.abs(s)), 0);
    const first = bar.samples.findIndex(s => Math.abs(s) > 0.02 * peak);
    const step = (bar.rate / RATE) * 2 ** ((midi - nearest) / 12);
    const gain = (0.4 / peak) * (velocity / 127) ** 1.6;
    const from = Math.round(at * RATE);
    for (let i = 0; from + i < length; i++) {
      const place = first + i * step;
      const here = bar.samples[Math.floor(place)];
      const next = bar.samples[Math.floor(place) + 1];
      if (here === undefined || next === undefined) break;
      samples[from + i] = (samples[from + i] ?? 0) + gain * (here + (place % 1) * (next - here));
    }
  }
  return { rate: RATE, samples };
};
