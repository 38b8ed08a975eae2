import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { struckBars } from '../../core/hearing/hear.ts';
import { MODELS, noise, soundOf, type TestBlow } from './bars.ts';
import { recordedPhrase } from './recorded.ts';

/** What was heard, as pitches; and by how much each blow was heard early or late, in ms, a common delay aside. */
const compare = (blows: readonly TestBlow[], heard: ReturnType<typeof struckBars>) => {
  const late = heard.map((bar, i) => (bar.at - (blows[i]?.at ?? 0)) * 1000).sort((a, b) => a - b);
  const middle = late[late.length >> 1] ?? 0;
  return {
    pitches: heard.map(bar => bar.sounding),
    worst: Math.max(0, ...late.map(ms => Math.abs(ms - middle))),
    middle,
  };
};

/** A syncopated phrase with repeated bars, leaps and a fast turn. */
const PHRASE = (base: number): TestBlow[] =>
  [
    [0.5, 0],
    [0.875, 4],
    [1.25, 7],
    [1.375, 7],
    [1.5, 4],
    [1.75, 2],
    [1.875, 0],
    [2.0, 12],
    [2.5, 9],
    [2.75, 7],
    [3.0, 0],
  ].map(([at = 0, up = 0], i) => ({ at, midi: base + up, velocity: [96, 70, 110, 60, 84][i % 5] ?? 90 }));

/** The same without a bar that is struck again while it rings. */
const EACH_ONCE = (base: number): TestBlow[] =>
  [0, 4, 7, 2, 12, 9, 5, -1].map((up, i) => ({
    at: [0.5, 0.875, 1.25, 1.375, 1.5, 1.75, 1.875, 2.25][i] ?? 0,
    midi: base + up,
    velocity: [96, 70, 110, 60, 84][i % 5] ?? 90,
  }));

describe('bars that are struck', () => {
  it.each([
    ['xylophone', MODELS.xylophone, PHRASE(77)],
    ['high xylophone', MODELS.xylophone, PHRASE(84)],
    ['low marimba', MODELS.marimba, EACH_ONCE(53)],
    ['marimba', MODELS.marimba, EACH_ONCE(65)],
    ['vibraphone', MODELS.vibraphone, EACH_ONCE(60)],
    ['free bars', MODELS.freeBar, EACH_ONCE(79)],
  ])('%s, a phrase: every blow, its pitch, its moment', (_, model, blows) => {
    const { pitches, worst } = compare(blows, struckBars(soundOf(blows, model)));
    expect(pitches).toEqual(blows.map(blow => blow.midi));
    // The reader takes a spread of 20 ms for a good player's; low bars are slower to be told.
    expect(worst).toBeLessThan((blows[0]?.midi ?? 0) < 60 ? 25 : 10);
  });

  it('two mallets at once: both bars', () => {
    const blows = [60, 64, 67, 72].map((midi, i) => ({ at: 0.5 + i / 2, midi: midi + 12 }));
    const thirds = blows.map(blow => ({ ...blow, midi: blow.midi + 4 }));
    const heard = struckBars(soundOf([...blows, ...thirds], MODELS.xylophone));
    expect(heard.map(bar => bar.sounding).sort()).toEqual(
      [...blows, ...thirds].map(blow => blow.midi).sort(),
    );
  });

  it('recordings of a real xylophone: a phrase with repeated bars, in the quiet and among people talking', () => {
    // No blow much softer than the one before on the same bar: such a one is not always heard.
    const blows = PHRASE(77).map(blow => ({ ...blow, velocity: 90 }));
    for (const hiss of [0.0005, 0.008]) {
      const heard = struckBars(recordedPhrase(blows, hiss));
      const { pitches, worst } = compare(blows, heard);
      expect(pitches).toEqual(blows.map(blow => blow.midi));
      expect(worst).toBeLessThan(15);
    }
  });

  it('silence, hiss, a hum and a hand clap are no bars', () => {
    const random = noise(4);
    const hum = Float32Array.from(
      { length: 88200 },
      (_, i) => 0.2 * Math.sin((2 * Math.PI * 50 * i) / 44100),
    );
    const hiss = Float32Array.from({ length: 88200 }, () => 0.2 * random());
    const clap = Float32Array.from({ length: 88200 }, (_, i) =>
      i > 44100 && i < 45100 ? 0.8 * random() * Math.exp(-(i - 44100) / 200) : 0,
    );
    for (const samples of [new Float32Array(0), new Float32Array(88200), hum, hiss, clap])
      expect(struckBars({ rate: 44100, samples })).toEqual([]);
  });

  it('law: louder, later, out of tune as a set, and at another rate the same bars are heard', () => {
    // Each bar once: one that still rings and is struck again is the hard case, held by the recordings above.
    const tune = fc.uniqueArray(
      fc.record({
        step: fc.constantFrom(0.15, 0.25, 0.375, 0.5),
        up: fc.constantFrom(0, 2, 4, 5, 7, 9, 11, 12, 14),
      }),
      { minLength: 3, maxLength: 7, selector: one => one.up },
    );
    fc.assert(
      fc.property(
        tune,
        fc.constantFrom(...Object.values(MODELS)),
        fc.constantFrom(60, 67, 74),
        fc.double({ min: 0.05, max: 0.9, noNaN: true }),
        fc.double({ min: 0, max: 2, noNaN: true }),
        fc.double({ min: -0.35, max: 0.35, noNaN: true }),
        fc.constantFrom(16000, 22050, 44100, 48000, 96000),
        (steps, model, base, gain, later, cents, rate) => {
          let at = 0.4 + later;
          const blows = steps.map(({ step, up }) => {
            at += step;
            return { at, midi: base + up };
          });
          const sounding = blows.map(blow => ({ ...blow, midi: blow.midi + cents }));
          const heard = struckBars(soundOf(sounding, model, { gain, rate, hiss: 0.0002 }));
          const { pitches, worst } = compare(blows, heard);
          expect(pitches).toEqual(blows.map(blow => blow.midi));
          expect(worst).toBeLessThan(15);
        },
      ),
      { numRuns: 25, seed: 7 },
    );
  }, 120_000);

  it('a set tuned a quarter of a semitone high, its bars off by up to 30 cents each', () => {
    const off = [0.3, -0.3, 0.28, -0.25, 0.3, -0.28, 0.1, -0.1];
    const blows = off.map((_, i) => ({ at: 0.5 + 0.4 * i, midi: 77 + 2 * i }));
    const sounding = blows.map((blow, i) => ({ ...blow, midi: blow.midi + 0.25 + (off[i] ?? 0) }));
    const heard = struckBars(soundOf(sounding, MODELS.xylophone));
    expect(heard.map(bar => bar.sounding)).toEqual(blows.map(blow => blow.midi));
  });

  it('a harder blow has the greater velocity', () => {
    const blows = [40, 60, 80, 100, 120].map((velocity, i) => ({ at: 0.5 + i / 2, midi: 84, velocity }));
    const heard = struckBars(soundOf(blows, MODELS.xylophone)).map(bar => bar.velocity);
    expect(heard).toHaveLength(5);
    expect(heard).toEqual([...heard].sort((a, b) => a - b));
    expect((heard[4] ?? 0) - (heard[0] ?? 0)).toBeGreaterThan(20);
  });
});
