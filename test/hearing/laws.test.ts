import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barInSet, learnBars } from '../../core/hearing/barSet.ts';
import { struckBars } from '../../core/hearing/hear.ts';
import type { Recording } from '../../core/hearing/readWav.ts';
import { MODELS, soundOf, type TestBlow } from './bars.ts';

// Laws of the ear: what a pupil struck does not change with how loud it is, when it is, and how the set is tuned.

const MODEL = fc.constantFrom(...Object.values(MODELS));
const RATES = fc.constantFrom(16000, 22050, 44100, 48000);
const BASE = fc.constantFrom(60, 65, 72, 77);
/** A tune in which no bar is struck again while it rings: that is the hard case, held by the recordings. */
const TUNE = fc
  .uniqueArray(
    fc.record({
      step: fc.constantFrom(0.2, 0.25, 0.375, 0.5),
      up: fc.constantFrom(0, 2, 4, 5, 7, 9, 11, 12),
      velocity: fc.integer({ min: 70, max: 120 }),
    }),
    { minLength: 3, maxLength: 6, selector: one => one.up },
  )
  .map(steps => {
    let at = 0.6;
    return steps.map(({ step, up, velocity }): TestBlow => ({ at: (at += step), midi: up, velocity }));
  });
const on = (base: number, tune: readonly TestBlow[]) =>
  tune.map(blow => ({ ...blow, midi: base + blow.midi }));

const louder = ({ rate, samples }: Recording, by: number): Recording => ({
  rate,
  samples: samples.map(x => Math.max(-1, Math.min(1, by * x))),
});
const peak = ({ samples }: Recording) => samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
const told = (sound: Recording) => struckBars(sound).map(({ at, sounding }) => ({ at, sounding }));
const soundings = (heard: ReturnType<typeof told>) => heard.map(bar => bar.sounding);

/** Every strike at its moment, but for as much as all of them are late. @param within seconds */
const expectSame = (
  heard: ReturnType<typeof told>,
  first: ReturnType<typeof told>,
  by: number,
  within: number,
): void => {
  expect(soundings(heard)).toEqual(soundings(first));
  heard.forEach((bar, i) => {
    expect(Math.abs(bar.at - by - (first[i]?.at ?? 0))).toBeLessThan(within);
  });
};

describe('laws of hearing', () => {
  it('louder, from a twentieth to full scale, and with a hard mallet clipped by half: the same strikes', () => {
    fc.assert(
      fc.property(TUNE, MODEL, BASE, RATES, fc.boolean(), (tune, model, base, rate, soft) => {
        const blows = on(base, tune).map(blow => ({ ...blow, soft }));
        const sound = soundOf(blows, model, { rate, hiss: 0.0002 });
        const first = told(sound);
        expect(soundings(first)).toEqual(blows.map(blow => blow.midi));
        // Soft strokes that beat with one another are cut off anew at every beat: that is a limit.
        const loudest = (soft ? 1 : 1.5) / peak(sound);
        for (const by of [0.05, 0.3, 1 / peak(sound), loudest])
          expectSame(told(louder(sound, by)), first, 0, 0.012);
      }),
      { numRuns: 12, seed: 21 },
    );
  }, 120_000);

  it('later by any part of a sample, of a look, or by seconds, the same strikes as much later', () => {
    const later = fc.oneof(
      fc.double({ min: 0, max: 0.0001, noNaN: true }),
      fc.double({ min: 0, max: 0.006, noNaN: true }),
      fc.double({ min: 0, max: 3, noNaN: true }),
    );
    fc.assert(
      fc.property(TUNE, MODEL, BASE, RATES, later, (tune, model, base, rate, by) => {
        const blows = on(base, tune);
        const first = told(soundOf(blows, model, { rate, hiss: 0.0002 }));
        expect(soundings(first)).toEqual(blows.map(blow => blow.midi));
        const moved = blows.map(blow => ({ ...blow, at: blow.at + by }));
        // A look is 3 ms, and a strike is told to its middle.
        expectSame(told(soundOf(moved, model, { rate, hiss: 0.0002 })), first, by, 0.006);
      }),
      { numRuns: 15, seed: 22 },
    );
  }, 120_000);

  it('out of tune by up to 40 cents a bar, around an A of 440 to 446, the same strikes; named by the set', () => {
    const cents = fc.array(fc.integer({ min: -40, max: 40 }), { minLength: 6, maxLength: 6 });
    const a = fc.double({ min: 440, max: 446, noNaN: true });
    fc.assert(
      fc.property(TUNE, MODEL, BASE, RATES, cents, a, (tune, model, base, rate, off, tuning) => {
        const blows = on(base, tune);
        const set = 12 * Math.log2(tuning / 440);
        const real = blows.map((blow, i) => ({ ...blow, midi: blow.midi + set + (off[i] ?? 0) / 100 }));
        const heard = struckBars(soundOf(real, model, { rate, hiss: 0.0002 }));
        expect(heard).toHaveLength(blows.length);
        heard.forEach((bar, i) => {
          expect(Math.abs(bar.pitch - (real[i]?.midi ?? 0))).toBeLessThan(0.1);
          expect(Math.abs(bar.at - (real[i]?.at ?? 0))).toBeLessThan(0.025);
        });
        // Who knows the set knows every bar of it, however far it is off.
        const bars = real.map(({ midi }, i) => ({ sounding: blows[i]?.midi ?? 0, pitch: midi }));
        expect(heard.map(bar => barInSet(bars, bar).sounding)).toEqual(blows.map(blow => blow.midi));
      }),
      { numRuns: 15, seed: 23 },
    );
  }, 120_000);

  it('a set that was learnt from its own sound names a tune on it, 30 cents off a bar', () => {
    const naturals = [0, 2, 4, 5, 7, 9, 11, 12].map(up => 72 + up);
    const cents = fc.array(fc.integer({ min: -30, max: 30 }), { minLength: 8, maxLength: 8 });
    fc.assert(
      fc.property(cents, fc.double({ min: 440, max: 446, noNaN: true }), MODEL, (off, tuning, model) => {
        const set = 12 * Math.log2(tuning / 440);
        const real = naturals.map((midi, i) => midi + set + (off[i] ?? 0) / 100);
        const once = struckBars(
          soundOf(
            real.map((midi, i) => ({ at: 0.6 + 0.4 * i, midi })),
            model,
            { rate: 22050 },
          ),
        );
        const learnt = learnBars(once.map(bar => bar.pitch));
        expect(learnt.ok && learnt.value.map(bar => bar.sounding)).toEqual(naturals);
        const played = [4, 0, 7, 2, 5].map((i, k) => ({ at: 0.6 + 0.3 * k, midi: real[i] ?? 0 }));
        const heard = struckBars(soundOf(played, model, { rate: 22050 }));
        expect(learnt.ok && heard.map(bar => barInSet(learnt.value, bar).sounding)).toEqual(
          [4, 0, 7, 2, 5].map(i => naturals[i]),
        );
      }),
      { numRuns: 8, seed: 24 },
    );
  }, 120_000);
});
