import { describe, expect, it } from 'vitest';
import { createEar } from '../../core/hearing/ear.ts';
import { createSoundWatch, type SoundState } from '../../core/hearing/soundWatch.ts';
import { unpitchedTick } from '../../renderer/sound/clickSounds.ts';
import { MODELS, noise, soundOf } from './bars.ts';

const RATE = 16000;
/** All states of a sound; a strike at each of these moments. */
const statesOf = (samples: Float32Array, strikes: readonly number[] = []): SoundState[] => {
  const watch = createSoundWatch(RATE);
  const states: SoundState[] = [];
  for (let from = 0; from < samples.length; from += 256) {
    const struck = strikes.some(at => at * RATE >= from && at * RATE < from + 256);
    const state = watch.watch(samples.subarray(from, from + 256), struck);
    if (state !== undefined) states.push(state);
  }
  return states;
};
const hiss = (seconds: number, loud: number): Float32Array => {
  const random = noise(2);
  return Float32Array.from({ length: seconds * RATE }, () => loud * random());
};
const troublesOf = (states: readonly SoundState[]): readonly unknown[] => [
  ...new Set(states.map(s => s.trouble)),
];

describe('how the sound that comes in is', () => {
  it('ten looks a second, with the loudest of each in dB of full scale', () => {
    const states = statesOf(hiss(2, 0.1));
    expect(states.length).toBeGreaterThanOrEqual(19);
    // A tenth of full scale is 20 dB under it.
    for (const { level } of states) expect(Math.abs(level + 20)).toBeLessThan(0.3);
  });

  it('three seconds of nothing at all are a microphone that is off; a quiet room is not', () => {
    const off = statesOf(new Float32Array(5 * RATE));
    expect(off.slice(0, 29).map(s => s.trouble)).toEqual(Array(29).fill(undefined));
    expect(off.slice(30).map(s => s.trouble)).toEqual(Array(off.length - 30).fill('silent'));
    expect(troublesOf(statesOf(hiss(6, 0.0003)))).toEqual([undefined]);
  });

  it('strikes cut off at full scale are told for five seconds; loud ones that are not cut off are none', () => {
    const blows = [{ at: 1, midi: 77, velocity: 127 }];
    const loud = soundOf(blows, MODELS.xylophone, { rate: RATE, gain: 0.5 }).samples;
    expect(Math.max(...loud)).toBeLessThan(0.98);
    expect(troublesOf(statesOf(loud))).toEqual([undefined]);
    const cut = hiss(9, 0.001).map((v, i) => Math.max(-1, Math.min(1, v + 4 * (loud[i] ?? 0))));
    const states = statesOf(cut);
    expect(states.filter(s => s.trouble === 'clipped').length).toBeGreaterThan(45);
    expect(states.at(-1)?.trouble).toBeUndefined();
  });

  it('a room is too loud where its noise comes near the strikes; playing itself is no noise', () => {
    const strikes = Array.from({ length: 12 }, (_, i) => 1 + i * 0.5);
    const played = soundOf(
      strikes.map((at, i) => ({ at, midi: 72 + (i % 5) })),
      MODELS.vibraphone,
      { rate: RATE, hiss: 0, gain: 0.3 },
    ).samples;
    const inRoom = (loud: number): Float32Array => {
      const room = hiss(14, loud);
      return room.map((v, i) => v + (played[i] ?? 0));
    };
    expect(troublesOf(statesOf(inRoom(0.002), strikes))).toEqual([undefined]);
    expect(statesOf(inRoom(0.06), strikes).at(-1)?.trouble).toBe('noisy');
    // Without a strike only a room that is loud in itself is told.
    expect(troublesOf(statesOf(hiss(8, 0.02)))).toEqual([undefined]);
    expect(statesOf(hiss(8, 0.2)).at(-1)?.trouble).toBe('noisy');
  });

  it('the click of noise is no bar to the ear, loud or soft, in a dry room or one that rings', () => {
    for (const wet of [0, 0.5])
      for (const gain of [0.05, 0.4, 1]) {
        const random = noise(6);
        const dry = new Float32Array(6 * RATE);
        for (let beat = 0; beat < 8; beat++)
          unpitchedTick(RATE, beat % 4 === 0).forEach((v, i) => {
            dry[Math.round((0.8 + beat * 0.6) * RATE) + i] = gain * v;
          });
        const samples = dry.map(v => v + 0.0005 * random());
        for (let echo = 0; wet > 0 && echo < 60; echo++) {
          const share = (random() + 1) / 2;
          const late = Math.round(RATE * (0.011 + 0.72 * share ** 1.5));
          const soft = wet * 10 ** ((-3 * late) / RATE / 0.6) * (random() < 0 ? -0.6 : 0.6);
          for (let i = late; i < samples.length; i++)
            samples[i] = (samples[i] ?? 0) + soft * (dry[i - late] ?? 0);
        }
        const ear = createEar(RATE);
        const { struck, atOnce } = ear.hear(samples);
        expect([...struck, ...atOnce, ...ear.end().struck]).toEqual([]);
      }
  });
});
