import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createEar, type HeardLive } from '../../core/hearing/ear.ts';
import { struckBars } from '../../core/hearing/hear.ts';
import type { Recording } from '../../core/hearing/readWav.ts';
import { createThinner, thinned } from '../../core/hearing/thin.ts';
import { MODELS, noise, soundOf, type TestBlow } from './bars.ts';
import { recordedPhrase } from './recorded.ts';

/** All an ear tells of a sound that is cut into pieces of these lengths, over and over. */
const heardBy = (
  { rate, samples }: Recording,
  lengths: readonly number[],
): HeardLive & { lags: number[] } => {
  const ear = createEar(rate);
  const all: HeardLive[] = [];
  const lags: number[] = [];
  for (let from = 0, i = 0; from < samples.length; i++) {
    const to = Math.min(samples.length, from + (lengths[i % lengths.length] ?? 256));
    const heard = ear.hear(samples.subarray(from, to));
    all.push(heard);
    lags.push(...heard.atOnce.map(bar => to / rate - bar.at));
    from = to;
  }
  all.push(ear.end());
  return { struck: all.flatMap(h => h.struck), atOnce: all.flatMap(h => h.atOnce), lags };
};
const inOrder = (bars: HeardLive['struck']): HeardLive['struck'] => [...bars].sort((a, b) => a.at - b.at);

/** A syncopated phrase with a repeated bar, a leap and a fast turn. @param from when it begins, in seconds */
const phrase = (base: number, from: number): TestBlow[] =>
  [
    [0, 0],
    [0.375, 4],
    [0.75, 7],
    [1, 7],
    [1.25, 4],
    [1.5, 2],
    [1.625, 0],
    [1.75, 12],
    [2.25, 9],
    [2.5, 5],
  ].map(([at = 0, up = 0], i) => ({
    at: from + at,
    midi: base + up,
    velocity: [96, 80, 110, 90, 84][i % 5] ?? 90,
  }));

describe('sound that goes on', () => {
  it.each([
    ['xylophone', soundOf(phrase(77, 1), MODELS.xylophone)],
    ['marimba', soundOf(phrase(65, 1), MODELS.marimba)],
    ['recorded bars', recordedPhrase(phrase(77, 1), 0.002)],
  ])('%s: the strikes that are heard in the whole of it, at the same moments', (_, sound) => {
    const whole = struckBars(sound);
    const { struck } = heardBy(sound, [256]);
    expect(whole).toHaveLength(10);
    expect(struck.map(bar => bar.sounding)).toEqual(whole.map(bar => bar.sounding));
    struck.forEach((bar, i) => {
      expect(Math.abs(bar.at - (whole[i]?.at ?? 0))).toBeLessThan(0.002);
    });
  });

  it('law: however it is cut, the same sound gives the same', () => {
    const sound = soundOf(phrase(77, 0.8), MODELS.xylophone, { rate: 16000, seed: 5 });
    const { struck, atOnce } = heardBy(sound, [sound.samples.length]);
    expect(struck).toHaveLength(10);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 20, max: 5000 }), { minLength: 1, maxLength: 6 }), lengths => {
        const cut = heardBy(sound, lengths);
        expect(cut.struck).toEqual(struck);
        expect(cut.atOnce).toEqual(atOnce);
      }),
      { numRuns: 4, seed: 3 },
    );
  });

  it('law: thinned piece by piece, the samples of the whole', () => {
    const random = noise(9);
    fc.assert(
      fc.property(
        fc.constantFrom(8000, 22050, 44100, 48000, 96000),
        fc.array(fc.integer({ min: 1, max: 700 }), { minLength: 1, maxLength: 5 }),
        (rate, lengths) => {
          const samples = Float32Array.from({ length: 3000 }, random);
          const thinner = createThinner(rate);
          const pieces: number[] = [];
          for (let from = 0, i = 0; from < samples.length; i++) {
            const to = from + (lengths[i % lengths.length] ?? 1);
            pieces.push(...thinner.thin(samples.subarray(from, to)));
            from = to;
          }
          const whole = thinned({ rate, samples });
          expect(thinner.rate).toBe(whole.rate);
          // The last half filter waits for what may come.
          expect(pieces.length).toBeGreaterThanOrEqual(whole.samples.length - 9);
          expect(pieces).toEqual([...whole.samples.subarray(0, pieces.length)]);
        },
      ),
      { numRuns: 30, seed: 1 },
    );
  });

  it('a strike is shown before it is told for good, at once and nearly always with its pitch', () => {
    const sound = recordedPhrase(phrase(77, 1), 0.002);
    const { struck, atOnce, lags } = heardBy(sound, [256]);
    const pitches = (bars: HeardLive['struck']): readonly number[] => inOrder(bars).map(bar => bar.sounding);
    expect(pitches(atOnce)).toEqual(pitches(struck));
    // A law of the ear, not of the clock: how much sound it needs. The eye takes a tenth of a second for at once.
    for (const lag of lags) expect(lag).toBeLessThan(0.07);
  });

  it('half a minute of the same figure: it is heard every time, whatever was let go of', () => {
    const [beat, rounds] = [2.5, 10];
    const figure = [0, 4, 7, 5].map((up, i) => ({ at: 1 + i * 0.5, midi: 77 + up }));
    const blows = Array.from({ length: rounds }, (_, round) =>
      figure.map(blow => ({ ...blow, at: blow.at + round * beat })),
    ).flat();
    const { struck } = heardBy(soundOf(blows, MODELS.xylophone, { rate: 16000 }), [512]);
    expect(struck.map(bar => bar.sounding)).toEqual(blows.map(blow => blow.midi));
    const late = struck.map((bar, i) => bar.at - (blows[i]?.at ?? 0));
    expect(Math.max(...late) - Math.min(...late)).toBeLessThan(0.006);
  });

  it('who plays far softer than before is heard again after half a minute, and not taken for a neighbour for ever', () => {
    const tune = (from: number, velocity: number): TestBlow[] =>
      [0, 2, 4, 5].map((up, i) => ({ at: from + i * 0.4, midi: 77 + up, velocity }));
    const sound = soundOf([...tune(1, 127), ...tune(5, 30), ...tune(40, 30)], MODELS.xylophone, {
      rate: 8000,
      hiss: 0.0001,
    });
    const struck = heardBy(sound, [512]).struck;
    expect(struck.filter(bar => bar.at < 4)).toHaveLength(4);
    expect(struck.filter(bar => bar.at > 4 && bar.at < 30)).toHaveLength(0);
    expect(struck.filter(bar => bar.at > 30)).toHaveLength(4);
  });

  it('silence, hiss, a hum and hand claps are no bars', () => {
    const random = noise(4);
    const length = 4 * 16000;
    const hum = Float32Array.from({ length }, (_, i) => 0.2 * Math.sin((2 * Math.PI * 50 * i) / 16000));
    const hiss = Float32Array.from({ length }, () => 0.2 * random());
    const claps = Float32Array.from({ length }, (_, i) => 0.8 * random() * Math.exp(-(i % 12000) / 80));
    for (const samples of [new Float32Array(0), new Float32Array(length), hum, hiss, claps]) {
      const { struck, atOnce } = heardBy({ rate: 16000, samples }, [256]);
      expect([struck, atOnce]).toEqual([[], []]);
    }
  });
});
