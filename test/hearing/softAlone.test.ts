import { describe, expect, it } from 'vitest';
import { createEar } from '../../core/hearing/ear.ts';
import { struckBars } from '../../core/hearing/hear.ts';
import { MODELS, soundOf, type TestBlow } from './bars.ts';

/** Velocity of a blow so far under one of 110, by how the model makes velocity loud: (v / 127) ** 1.6. */
const under = (dB: number) => 110 * 10 ** (-dB / 20 / 1.6);
/** A tune of so many blows, some of them softer by so many dB; no bar twice in a row. */
const tune = (count: number, soft: readonly number[], dB: number): TestBlow[] =>
  Array.from({ length: count }, (_, i) => ({
    at: 0.8 + 0.35 * i,
    midi: 77 + ([0, 4, 7, 2, 9, 5, 12][i % 7] ?? 0),
    velocity: soft.includes(i) ? under(dB) : 110,
  }));
const sound = (blows: readonly TestBlow[]) => soundOf(blows, MODELS.xylophone, { rate: 22050, hiss: 0.0002 });
const heard = (blows: readonly TestBlow[]) => struckBars(sound(blows));

describe('a blow far softer than the others', () => {
  it('that is alone is told, and that it may be none', () => {
    for (const dB of [15, 18]) {
      const blows = tune(20, [9], dB);
      const bars = heard(blows);
      expect(bars.map(bar => bar.sounding)).toEqual(blows.map(blow => blow.midi));
      expect(bars.flatMap((bar, i) => (bar.perhapsNone === true ? [i] : []))).toEqual([9]);
    }
  });

  it('live, too', () => {
    const blows = tune(20, [18], 18);
    const { rate, samples } = sound(blows);
    const ear = createEar(rate);
    const bars = [...ear.hear(samples).struck, ...ear.end().struck];
    expect(bars.map(bar => bar.sounding)).toEqual(blows.map(blow => blow.midi));
  });

  it('that comes again and again is a neighbour’s, as is one of a few, or one softer still', () => {
    for (const [count, soft, dB] of [
      [20, [3, 9], 18],
      [24, [3, 6, 9, 12, 15], 18],
      [12, [5], 18],
      [20, [9], 22],
    ] as const) {
      const blows = tune(count, soft, dB);
      expect(heard(blows).map(bar => bar.sounding)).toEqual(
        blows.filter((_, i) => !(soft as readonly number[]).includes(i)).map(blow => blow.midi),
      );
    }
  });
});
