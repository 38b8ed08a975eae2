import { type Browser, expect, type Page, test } from 'playwright/test';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../core/instruments/instruments.ts';
import { VELOCITY_OF } from '../../core/plan/dynamics.ts';
import type { SoundingEvent } from '../../core/playback/events.ts';
import { UNMARKED } from '../../core/playback/loudness.ts';
import { KNEE } from '../../renderer/sound/ceiling.ts';
import { decayTime, frequencyOf } from '../../core/playback/barModes.ts';
import { integratedLoudness, truePeak } from '../tools/loudnessMeter.ts';
import { centsBetween, peakOf, strongestNear, toneAt } from '../playback/tones.ts';
import { openSoundPage, RATE, renderIn, stroke } from './soundPage.ts';

// The sound as a browser renders it into a file. What is live is in soundLive.spec.ts, playing in playing.spec.ts.

let browser: Browser;
let page: Page;
test.beforeAll(async () => {
  ({ browser, page } = await openSoundPage());
});
test.afterAll(async () => {
  await browser.close();
});

for (const id of INSTRUMENT_IDS) {
  test(`${id}: what leaves the desk is within 1 cent of equal temperament at three pitches`, async () => {
    const { low, high, soundsAbove } = INSTRUMENTS[id];
    for (const written of [low, Math.round((low + high) / 2), high]) {
      const pitch = written + soundsAbove;
      const { left } = await renderIn(page, { events: [stroke(id, pitch, 0, 100, 2)], duration: 1 });
      // While the bar itself is far above the room: what the room gives back afterwards is no line any more.
      const length = Math.round(Math.min(0.5, 0.7 * decayTime(id, frequencyOf(pitch))) * RATE);
      const found = strongestNear(left, frequencyOf(pitch), RATE, 480, length);
      expect(Math.abs(centsBetween(found, frequencyOf(pitch)))).toBeLessThan(1);
    }
  });
}

test('no sample goes beyond full scale with four parts at full velocity, and something is there', async () => {
  const events = Array.from({ length: 16 }, (_, i) =>
    INSTRUMENT_IDS.flatMap(id => [stroke(id, 72, i * 0.15, 127), stroke(id, 79, i * 0.15, 127)]),
  ).flat();
  const { left, right } = await renderIn(page, { events, duration: 3 });
  expect(Math.max(peakOf(left), peakOf(right))).toBeLessThan(1);
  expect(peakOf(left)).toBeGreaterThan(0.7);
  // Between samples too (ITU-R BS.1770-4, Annex 2).
  expect(truePeak([left, right])).toBeLessThan(-1);
});

/** A line in the middle of an instrument, notes of 0.4 s, for 10 s. */
const lineOf = (id: InstrumentId, velocity: number, from = 0): SoundingEvent[] => {
  const { low, high, soundsAbove } = INSTRUMENTS[id];
  const steps = [0, 2, 4, 5, 7, 4, 2, -1];
  return Array.from({ length: 25 }, (_, i) =>
    stroke(
      id,
      Math.round((low + high) / 2) + soundsAbove + (steps[(i + from) % steps.length] ?? 0),
      i * 0.4,
      velocity,
      0.4,
    ),
  );
};
const heard = async (events: SoundingEvent[]): Promise<readonly [Float32Array, Float32Array]> => {
  const { left, right } = await renderIn(page, { events, duration: 10 });
  return [left.subarray(0, 10 * RATE), right.subarray(0, 10 * RATE)];
};

test('through the desk the instruments are equally loud, within 1 LU', async () => {
  const lines: number[] = [];
  for (const id of INSTRUMENT_IDS) lines.push(integratedLoudness(await heard(lineOf(id, UNMARKED)), RATE));
  expect(Math.max(...lines) - Math.min(...lines), String(lines)).toBeLessThan(1);
});

test('a piece in four parts without marks comes out about -18 LUFS, its peaks well below full scale', async () => {
  const parts = await heard(INSTRUMENT_IDS.flatMap((id, part) => lineOf(id, UNMARKED, 2 * part)));
  expect(Math.abs(integratedLoudness(parts, RATE) + 18)).toBeLessThan(1.5);
  expect(truePeak(parts)).toBeLessThan(-3);
});

test('no stroke of its own, up to ff, is bent by the limiter to speak of', async () => {
  for (const id of INSTRUMENT_IDS) {
    const { low, high, soundsAbove } = INSTRUMENTS[id];
    for (const written of [low, Math.round((low + high) / 2), high]) {
      const { left, right } = await renderIn(page, {
        events: [stroke(id, written + soundsAbove, 0, VELOCITY_OF.ff)],
        duration: 0.2,
      });
      // Up to here the curve takes off less than 0.1 dB.
      expect(Math.max(peakOf(left), peakOf(right)), `${id} ${String(written)}`).toBeLessThan(KNEE + 0.08);
    }
  }
});

test('an instrument that comes in, or leaves off, changes no sample of what still sounds', async () => {
  const first = [stroke('vibraphone', 60, 0, 60, 2), stroke('vibraphone', 67, 0.2, 60, 2)];
  const second = [stroke('marimba', 60, 0.5, 60), stroke('xylophone', 79, 0.8, 60)];
  const [both, one, other] = [
    await renderIn(page, { events: [...first, ...second], duration: 2 }),
    await renderIn(page, { events: first, duration: 2 }),
    await renderIn(page, { events: second, duration: 2 }),
  ];
  expect(
    peakOf(both.left.map((sample, i) => sample - (one.left[i] ?? 0) - (other.left[i] ?? 0))),
  ).toBeLessThan(1e-4);
});

test('a staccato note is stopped on any bar, as by hand', async () => {
  const level = async (stopped: boolean): Promise<number> => {
    const event = { ...stroke('glockenspiel', 91, 0, 80, 0.2), stopped };
    const { left } = await renderIn(page, { events: [event], duration: 2 });
    return peakOf(left.subarray(RATE, 1.2 * RATE)) / peakOf(left);
  };
  expect(await level(true)).toBeLessThan(0.002);
  expect(await level(false)).toBeGreaterThan(0.05);
});

test('each stroke begins where its event says, within 1 ms', async () => {
  // Some on either side of the seams at which strokes are handed over.
  const times = [0.1, 0.4333, 1.9999, 2, 3.25, 5.0007];
  for (const id of INSTRUMENT_IDS) {
    const { soundsAbove, low } = INSTRUMENTS[id];
    for (const at of times) {
      const { left, right } = await renderIn(page, {
        events: [stroke(id, low + soundsAbove + 12, at)],
        duration: 5.1,
      });
      const both = left.map((sample, i) => Math.abs(sample) + Math.abs(right[i] ?? 0));
      const threshold = peakOf(both) * 0.02;
      const onset = both.findIndex(sample => sample > threshold) / RATE;
      expect(Math.abs(onset - at), `${id} at ${String(at)} s`).toBeLessThan(0.001);
    }
  }
});

test('strokes of a passage add up: nothing is dropped beyond the live voice limit in a file', async () => {
  const events = Array.from({ length: 60 }, (_, i) => stroke('vibraphone', 60 + (i % 24), 0.02 * i, 60, 5));
  const all = await renderIn(page, { events, duration: 2 });
  const without = await renderIn(page, { events: events.slice(1), duration: 2 });
  const difference = all.left.map((sample, i) => sample - (without.left[i] ?? 0));
  // The first stroke still rings after the sixtieth began; the oldest would have been taken in live play.
  expect(peakOf(difference.subarray(Math.round(1.4 * RATE), Math.round(1.5 * RATE)))).toBeGreaterThan(0.005);
});

test('a vibraphone bar is damped at the end of its note, a marimba bar is not', async () => {
  const level = async (id: InstrumentId): Promise<number> => {
    const { left } = await renderIn(page, { events: [stroke(id, 60, 0, 100, 0.3)], duration: 2 });
    return peakOf(left.subarray(Math.round(1 * RATE), Math.round(1.1 * RATE))) / peakOf(left);
  };
  expect(await level('vibraphone')).toBeLessThan(0.001);
  expect(await level('marimba')).toBeGreaterThan(0.01);
});

test('rendering the same performance twice gives the same sound', async () => {
  const performance = { events: [stroke('xylophone', 84, 0), stroke('marimba', 60, 0.25)], duration: 0.5 };
  const [once, again] = [await renderIn(page, performance), await renderIn(page, performance)];
  // A browser may add up its nodes in another order, which shows in the last bits: far below 16-bit sound.
  expect(peakOf(once.left.map((sample, i) => sample - (again.left[i] ?? 0)))).toBeLessThan(1e-6);
});

for (const id of INSTRUMENT_IDS) {
  test(`${id}: what leaves the desk falls in the time of the model, within 15 %`, async () => {
    const { low, high, soundsAbove } = INSTRUMENTS[id];
    const pitch = Math.round((low + high) / 2) - 5 + soundsAbove;
    const frequency = frequencyOf(pitch);
    const modelled = decayTime(id, frequency);
    const { left } = await renderIn(page, { events: [stroke(id, pitch, 0, 100, 6)], duration: 4 });
    const window = Math.round(Math.min(0.05, modelled / 8) * RATE);
    // From where the room has filled to where the bar has fallen by some 20 dB: later the room is what is left.
    const [early, late] = [0.08, 0.4].map(share =>
      Math.round(Math.min(share * modelled, 6 * share) * RATE),
    ) as [number, number];
    const fell =
      20 *
      Math.log10(toneAt(left, frequency, RATE, early, window) / toneAt(left, frequency, RATE, late, window));
    const measured = ((late - early) / RATE / fell) * 60;
    expect(Math.abs(measured / modelled - 1)).toBeLessThan(0.15);
  });
}

/** Level of a tone, dB, in steps of 10 ms from `from` to `to` seconds, its steady fall taken out. */
const swellOf = (samples: Float32Array, frequency: number, from: number, to: number): readonly number[] => {
  const step = 0.01;
  const window = Math.round(0.04 * RATE);
  const levels = Array.from(
    { length: Math.round((to - from) / step) },
    (_, i) => 20 * Math.log10(toneAt(samples, frequency, RATE, Math.round((from + i * step) * RATE), window)),
  );
  const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
  const [mi, ml] = [(levels.length - 1) / 2, mean(levels)];
  const slope =
    levels.reduce((so, level, i) => so + (i - mi) * (level - ml), 0) /
    levels.reduce((so, _, i) => so + (i - mi) ** 2, 0);
  return levels.map((level, i) => level - ml - slope * (i - mi));
};

test('the vibraphone motor swells as often as it is set, by 6 dB, and is off unless asked for', async () => {
  const events = [stroke('vibraphone', 65, 0, 90, 4)];
  const swell = async (swells: number): Promise<readonly number[]> =>
    swellOf((await renderIn(page, { events, duration: 2 }, RATE, swells)).left, frequencyOf(65), 0.3, 3.3);
  const depth = (levels: readonly number[]): number => Math.max(...levels) - Math.min(...levels);
  expect(depth(await swell(0))).toBeLessThan(0.5);
  for (const swells of [3.5, 5, 7]) {
    const levels = await swell(swells);
    // The window of 40 ms and the room round the edges off the faster swells.
    expect(depth(levels), `${String(swells)} a second`).toBeGreaterThan(4);
    expect(depth(levels), `${String(swells)} a second`).toBeLessThan(7);
    // How often: the strongest rhythm of the level among 1 to 12 a second.
    const rates = Array.from({ length: 111 }, (_, i) => 1 + i * 0.1);
    const sizes = rates.map(rate => toneAt(levels, rate, 100));
    expect(Math.abs((rates[sizes.indexOf(Math.max(...sizes))] ?? 0) - swells)).toBeLessThan(0.15);
  }
});

test('the motor turns nothing but the vibraphone, and bends no pitch', async () => {
  const others = { events: [stroke('marimba', 60, 0), stroke('glockenspiel', 91, 0.2)], duration: 0.5 };
  const [still, turning] = [await renderIn(page, others), await renderIn(page, others, RATE, 5)];
  expect(peakOf(still.left.map((sample, i) => sample - (turning.left[i] ?? 0)))).toBeLessThan(1e-6);
  const { left } = await renderIn(
    page,
    { events: [stroke('vibraphone', 65, 0, 90, 4)], duration: 2 },
    RATE,
    5,
  );
  const found = strongestNear(left, frequencyOf(65), RATE, 4800, 2 * RATE, 10);
  expect(Math.abs(centsBetween(found, frequencyOf(65)))).toBeLessThan(1);
});
