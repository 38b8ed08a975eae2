import { describe, expect, it } from 'vitest';
import { INSTRUMENT_IDS } from '../../core/instruments/instruments.ts';
import {
  contactTime,
  decayTime,
  frequencyOf,
  modeRatios,
  modeShape,
  partialsOf,
  UNIFORM_BAR,
} from '../../core/playback/struckBar.ts';

describe('frequencies', () => {
  it('are equal-tempered at A4 = 440 Hz (ISO 16); middle C is 261.626 Hz (published tables)', () => {
    expect(frequencyOf(69)).toBe(440);
    expect(frequencyOf(60)).toBeCloseTo(261.626, 3);
  });
});

describe('modes of a bar', () => {
  // Fletcher & Rossing, The Physics of Musical Instruments, free-free bar.
  it('of uniform section stand as 1 : 2.7565 : 5.4039 : 8.9330 : 13.344', () => {
    const published = [1, 2.7565, 5.4039, 8.933, 13.344];
    UNIFORM_BAR.forEach((ratio, mode) => {
      expect(ratio).toBeCloseTo(published[mode] ?? 0, mode < 3 ? 3 : 2);
    });
  });

  it('solve cosh x cos x = 1, found here by bisection', () => {
    const root = (low: number, high: number): number => {
      const f = (x: number): number => Math.cosh(x) * Math.cos(x) - 1;
      let [a, b] = [low, high];
      for (let i = 0; i < 80; i += 1) {
        const middle = (a + b) / 2;
        if (f(a) * f(middle) <= 0) b = middle;
        else a = middle;
      }
      return a;
    };
    const first = root(4, 5.5);
    expect((root(7, 8.5) / first) ** 2).toBeCloseTo(UNIFORM_BAR[1] ?? 0, 9);
    expect((root(10.2, 11.8) / first) ** 2).toBeCloseTo(UNIFORM_BAR[2] ?? 0, 9);
  });

  it('of the marimba are 1:4:10:20 (Hill & Errede), of the xylophone 1:3:6', () => {
    expect(modeRatios('marimba')).toEqual([1, 4, 10, 20]);
    expect(modeRatios('xylophone')).toEqual([1, 3, 6]);
  });

  it('have mode 1 at rest 22.4 % from the end and mode 2 at rest in the centre (Fletcher & Rossing)', () => {
    expect(Math.abs(modeShape(0, 0.2242))).toBeLessThan(0.002);
    expect(Math.abs(modeShape(1, 0.5))).toBeLessThan(1e-9);
    expect(modeShape(0, 0)).toBeCloseTo(1, 9);
  });
});

describe('decay', () => {
  // T60 = 2.2/(0.0045 f): C3 3.7, C4 1.9, C5 0.93, C6 0.47, C7 0.23 s (computed from the loss factor of Hill & Errede).
  it.each([
    [48, 3.7],
    [60, 1.9],
    [72, 0.93],
    [84, 0.47],
    [96, 0.23],
  ])('of marimba pitch %i is %f s', (pitch, seconds) => {
    expect(decayTime('marimba', frequencyOf(pitch)) / seconds).toBeCloseTo(1, 1);
  });

  it('is shorter on a xylophone and much longer on metal', () => {
    expect(decayTime('xylophone', 523)).toBeLessThan(decayTime('marimba', 523));
    expect(decayTime('vibraphone', 523)).toBeGreaterThan(10 * decayTime('marimba', 523));
    expect(decayTime('glockenspiel', frequencyOf(79))).toBeCloseTo(8, 1);
    expect(decayTime('glockenspiel', frequencyOf(108))).toBeCloseTo(2, 1);
  });
});

describe('the blow', () => {
  it('lasts shorter the harder it is, as v^-0.2 (Hertz contact, from memory)', () => {
    expect(contactTime('marimba', 60, 127) / contactTime('marimba', 60, 32)).toBeCloseTo(
      (127 / 32) ** -0.2,
      9,
    );
  });

  it.each(INSTRUMENT_IDS)('brings out more of the upper modes of a %s the harder it is', instrument => {
    const soft = partialsOf(instrument, 72, 30);
    const hard = partialsOf(instrument, 72, 120);
    const upper = (partials: typeof soft): number =>
      partials.slice(1).reduce((sum, partial) => sum + partial.amplitude, 0) / (partials[0]?.amplitude ?? 1);
    expect(upper(hard)).toBeGreaterThan(upper(soft));
  });

  it.each(INSTRUMENT_IDS)('leaves the fundamental of a %s the strongest partial', instrument => {
    for (const pitch of [60, 72, 84, 96]) expect(partialsOf(instrument, pitch, 100)[0]?.amplitude).toBe(1);
  });
});
