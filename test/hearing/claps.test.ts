import { describe, expect, it } from 'vitest';
import { CLAP_PITCH, clapsIn } from '../../core/hearing/claps.ts';
import { struckBars } from '../../core/hearing/hear.ts';
import { heardIn } from '../../core/hearing/soundFile.ts';
import { takeOfBars } from '../../core/hearing/takeOfBars.ts';
import { readTake } from '../../core/reading/read.ts';
import { isRhythmOnly } from '../../core/piece/rhythmOnly.ts';
import { MODELS, noise, soundOf } from './bars.ts';
import { type Clapped, soundOfClaps } from './clapping.ts';
import { recordedPhrase } from './recorded.ts';

/** Son clave twice, as sixteenths (Toussaint 2005): at crotchet 96. */
const SON = [0, 3, 6, 10, 12].flatMap(step => [step, step + 16]).sort((a, b) => a - b);
const STEP = 60 / 96 / 4;
const claps = SON.map((step, i) => ({ at: 0.4 + step * STEP, velocity: 70 + ((i * 37) % 50) }));

const KINDS: readonly Clapped[] = ['hands', 'desk', 'drum'];
const ROOMS = [
  ['quiet', { hiss: 0.0005 }],
  ['a room', { hiss: 0.002, room: 0.12 }],
  ['a class', { hiss: 0.012 }],
  ['a telephone', { rate: 16_000, hiss: 0.002 }],
] as const;

describe('claps, taps and drums in a recording', () => {
  it.each(KINDS.flatMap(kind => ROOMS.map(([room, options]) => [kind, room, options] as const)))(
    '%s in %s: each is heard once, to 8 ms',
    (kind, _, options) => {
      const heard = clapsIn(soundOfClaps(claps, kind, options));
      // The window of the onset detection contest (MIREX) is 50 ms; the rhythm reader wants better.
      expect(heard).toHaveLength(claps.length);
      heard.forEach(({ at }, i) => {
        expect(Math.abs(at - (claps[i]?.at ?? NaN))).toBeLessThan(0.008);
      });
      // Not early or late as a whole.
      const off = heard.reduce((sum, { at }, i) => sum + at - (claps[i]?.at ?? NaN), 0) / heard.length;
      expect(Math.abs(off)).toBeLessThan(0.003);
    },
  );

  it('are a rhythm on one line, read as it was clapped', () => {
    for (const kind of KINDS) {
      const heard = heardIn({ name: 'claps.wav', recording: soundOfClaps(claps, kind) });
      if (!heard.ok) throw new Error(heard.problem.what);
      const take = takeOfBars(heard.value, { id: 't', capturedAt: '', from: 'claps.wav', soundsAbove: 12 });
      if (!take.ok) throw new Error(take.problem.what);
      expect(take.value.strikes.map(s => s.pitch)).toEqual(claps.map(() => CLAP_PITCH));
      const [reading] = readTake(take.value, { free: true });
      if (reading === undefined) throw new Error('no reading');
      expect(isRhythmOnly(reading)).toBe(true);
      // Distances from clap to clap in crotchets, of the first time round.
      const places = reading.notes.map(n => n.onset.n / n.onset.d);
      const apart = places.slice(1, 6).map((at, i) => 4 * (at - (places[i] ?? 0)));
      expect(apart).toEqual([0.75, 0.75, 1, 0.5, 1]);
    }
  });

  it('louder ones are louder, and the same rhythm later is later', () => {
    const even = [0.5, 1, 1.5, 2].map((at, i) => ({ at, velocity: [60, 110, 60, 110][i] ?? 90 }));
    const heard = clapsIn(soundOfClaps(even, 'hands'));
    const [soft = 0, loud = 0] = heard.map(one => one.velocity);
    expect(loud).toBeGreaterThan(soft + 10);
    const later = clapsIn(
      soundOfClaps(
        even.map(one => ({ ...one, at: one.at + 0.3 })),
        'hands',
      ),
    );
    later.forEach(({ at }, i) => {
      expect(at - (heard[i]?.at ?? NaN)).toBeCloseTo(0.3, 2);
    });
  });

  it('silence and steady noise hold none', () => {
    const random = noise(5);
    const hiss = Float32Array.from({ length: 3 * 44100 }, () => 0.05 * random());
    expect(clapsIn({ rate: 44100, samples: hiss })).toEqual([]);
    expect(clapsIn({ rate: 8000, samples: new Float32Array(8000) })).toEqual([]);
    expect(clapsIn({ rate: 96_000, samples: new Float32Array(10) })).toEqual([]);
  });
});

describe('struck bars stay bars', () => {
  const tune = [72, 76, 79, 76, 74, 72, 84, 79].map((midi, i) => ({ at: 0.5 + i * 0.3, midi }));
  const same = (recording: Parameters<typeof struckBars>[0]): void => {
    const heard = heardIn({ name: 'a.wav', recording });
    expect(heard).toEqual({ ok: true, value: struckBars(recording) });
    expect(heard.ok && heard.value.length).toBeGreaterThan(5);
  };

  it.each(Object.entries(MODELS))('%s', (_, model) => {
    same(soundOf(tune, model));
  });

  it('a recorded xylophone', () => {
    same(recordedPhrase(tune, 0.001));
  });
});
