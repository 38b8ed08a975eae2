import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createClapEar } from '../../core/hearing/clapEar.ts';
import { clapsIn } from '../../core/hearing/claps.ts';
import { createEar } from '../../core/hearing/ear.ts';
import { struckBars } from '../../core/hearing/hear.ts';
import { createSoundWatch } from '../../core/hearing/soundWatch.ts';
import { MODELS, noise, soundOf } from './bars.ts';

const RATE = 16000;
const blows = [77, 81, 84, 79, 77].map((midi, i) => ({ at: 0.8 + 0.4 * i, midi }));
const bars = soundOf(blows, MODELS.xylophone, { rate: RATE });
const random = noise(6);
const claps = Float32Array.from(
  { length: 4 * RATE },
  (_, i) => 0.001 * random() + 0.8 * random() * Math.exp(-(i % 8000) / 80),
);
/** No sound at all: what a broken driver or file may hold. */
const NO_SOUND = [NaN, Infinity, -Infinity, 1e30, -1e7];
const at = (samples: Float32Array, spoilt: readonly (readonly [number, number])[]): Float32Array => {
  const all = samples.slice();
  for (const [place, value] of spoilt) all[place % all.length] = value;
  return all;
};
const silentAt = (samples: Float32Array, spoilt: readonly (readonly [number, number])[]): Float32Array =>
  at(
    samples,
    spoilt.map(([place]) => [place, 0]),
  );
const spoiling = fc.array(fc.tuple(fc.nat(60_000), fc.constantFrom(...NO_SOUND)), {
  minLength: 1,
  maxLength: 3,
});

describe('samples that are no sound', () => {
  it('law: are silence, and deafen nobody: bars and claps, whole and live, at any rate', () => {
    fc.assert(
      fc.property(spoiling, fc.constantFrom(RATE, 44100), (spoilt, rate) => {
        const heardBy = (create: typeof createEar, samples: Float32Array) => {
          const ear = create(rate);
          return [ear.hear(samples), ear.end()];
        };
        const recording = (samples: Float32Array) => ({ rate, samples });
        const [bad, good] = [at(bars.samples, spoilt), silentAt(bars.samples, spoilt)];
        expect(struckBars(recording(bad))).toEqual(struckBars(recording(good)));
        expect(heardBy(createEar, bad)).toEqual(heardBy(createEar, good));
        const [loud, still] = [at(claps, spoilt), silentAt(claps, spoilt)];
        expect(clapsIn(recording(loud))).toEqual(clapsIn(recording(still)));
        expect(heardBy(createClapEar, loud)).toEqual(heardBy(createClapEar, still));
      }),
      { numRuns: 3, seed: 4 },
    );
  });

  it('one of them before the first bar, and all five bars are heard', () => {
    for (const value of NO_SOUND) {
      const samples = at(bars.samples, [[100, value]]);
      expect(struckBars({ rate: RATE, samples }).map(bar => bar.sounding)).toEqual([77, 81, 84, 79, 77]);
      const ear = createEar(RATE);
      const told = [ear.hear(samples), ear.end()].flatMap(heard => heard.struck);
      expect(told.map(bar => bar.sounding)).toEqual([77, 81, 84, 79, 77]);
    }
  });

  it('say nothing of how loud the room is', () => {
    const watched = (samples: Float32Array) => createSoundWatch(RATE).watch(samples, false);
    const quiet = Float32Array.from({ length: 4 * RATE }, () => 0.01 * random());
    const spoilt = NO_SOUND.map((value, i) => [40_000 + i, value] as const);
    expect(watched(at(quiet, spoilt))).toEqual(watched(silentAt(quiet, spoilt)));
    // A room that is told to be loud afterwards all the same.
    const loud = Float32Array.from({ length: 7 * RATE }, () => 0.2 * random());
    expect(watched(at(loud, spoilt))?.trouble).toBe('noisy');
  });
});
