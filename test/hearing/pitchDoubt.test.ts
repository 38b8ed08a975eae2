import { describe, expect, it } from 'vitest';
import { barInSet } from '../../core/hearing/barSet.ts';
import type { TunedBar } from '../../core/foundation/tunedBar.ts';
import { createEar } from '../../core/hearing/ear.ts';
import { struckBars } from '../../core/hearing/hear.ts';
import { takeOfBars } from '../../core/hearing/takeOfBars.ts';
import { MODELS, soundOf } from './bars.ts';
import { recordedPhrase } from './recorded.ts';

/** Eight bars in tune and one between two semitones, `off` above the lower. */
const tune = (off: number) =>
  [72, 76, 79, 76 + off, 74, 72, 84, 79].map((midi, i) => ({ at: 0.5 + i * 0.4, midi }));
const doubts = (off: number) =>
  struckBars(soundOf(tune(off), MODELS.xylophone)).map(({ sounding, nextBest }) => [sounding, nextBest]);

describe('a bar that may be its octave', () => {
  /** An octave is struck softly, and then together with the bar below it, whose own octave that might be. */
  const blows = [
    ...[72, 84, 72, 84, 76, 79].map((midi, i) => ({
      at: 0.7 + 0.5 * i,
      midi,
      velocity: midi === 84 ? 46 : 112,
    })),
    { at: 3.7, midi: 72, velocity: 112 },
    { at: 3.7, midi: 84, velocity: 46 },
    { at: 4.4, midi: 72, velocity: 112 },
  ];
  const sound = soundOf(blows, MODELS.xylophone);
  const told = [72, 84, 72, 84, 76, 79, 72, 72].map((sounding, i) => [sounding, i === 6 ? 84 : undefined]);

  it('is told with it, in a recording and live, and alone it is in no doubt', () => {
    expect(struckBars(sound).map(({ sounding, nextBest }) => [sounding, nextBest])).toEqual(told);
    const ear = createEar(sound.rate);
    const live = [ear.hear(sound.samples), ear.end()].flatMap(heard => heard.struck);
    expect(live.map(({ sounding, nextBest }) => [sounding, nextBest])).toEqual(told);
  });
});

describe('a strike that may be somebody else’s', () => {
  it('is one far softer than the others, yet not so soft that it is surely theirs', () => {
    // Velocities as soundOf makes them: 32 dB for ten times as much, so 12 dB under 100 is 42.
    const blows = [100, 100, 42, 100, 70, 100, 30].map((velocity, i) => ({
      at: 0.6 + 0.5 * i,
      midi: 72 + ((i * 5) % 12),
      velocity,
    }));
    const heard = struckBars(soundOf(blows, MODELS.xylophone));
    expect(heard.map(({ perhapsNone }) => perhapsNone)).toEqual([
      undefined,
      undefined,
      true,
      undefined,
      undefined,
      undefined,
    ]);
  });
});

describe('a bar that may be its neighbour', () => {
  it('is one that is out of tune with its set, and only that one; the side it is on is the next best', () => {
    // A bar may be off by 40 cents each (issue of the room's own bars); nearer than 30 nobody doubts it.
    expect(doubts(0.44)[3]).toEqual([76, 77]);
    expect(doubts(0.58)[3]).toEqual([77, 76]);
    for (const off of [0, 0.15, -0.15])
      expect(doubts(off).map(([, next]) => next)).toEqual(Array(8).fill(undefined));
    expect(doubts(0.44).filter(([, next]) => next !== undefined)).toHaveLength(1);
  });

  it('is never doubted for another bar of the same pitch', () => {
    const set: readonly TunedBar[] = [77, 77.1, 78].map((pitch, i) => ({ sounding: i < 2 ? 77 : 78, pitch }));
    const heard = { sounding: 77, at: 0, velocity: 90 };
    expect(barInSet(set, { ...heard, pitch: 77.05 }).nextBest).toBeUndefined();
    expect(barInSet(set, { ...heard, pitch: 77.45 })).toMatchObject({ sounding: 77, nextBest: 78 });
  });

  it('is no bar of a recorded xylophone, which is in tune with itself', () => {
    const heard = struckBars(recordedPhrase(tune(0), 0.001));
    expect(heard.length).toBeGreaterThan(6);
    expect(heard.filter(({ nextBest }) => nextBest !== undefined)).toEqual([]);
  });

  it('is known by the set once that was learnt', () => {
    // An E that is 44 cents sharp, beside an F 10 cents flat.
    const set: readonly TunedBar[] = [
      { sounding: 76, pitch: 76.44 },
      { sounding: 77, pitch: 76.9 },
      { sounding: 79, pitch: 79 },
    ];
    const heard = { at: 0, velocity: 90, sounding: 76, nextBest: 77 } as const;
    const named = (pitch: number) => {
      const { sounding, nextBest } = barInSet(set, { ...heard, pitch });
      return [sounding, nextBest];
    };
    expect(named(76.43)).toEqual([76, undefined]);
    expect(named(76.64)).toEqual([76, 77]);
    expect(named(76.7)).toEqual([77, 76]);
    expect(named(79.05)).toEqual([79, undefined]);
    // Nearly half way between two bars that are a semitone apart.
    const apart: readonly TunedBar[] = [
      { sounding: 76, pitch: 76 },
      { sounding: 77, pitch: 77 },
    ];
    expect(barInSet(apart, { ...heard, pitch: 76.45 })).toMatchObject({ sounding: 76, nextBest: 77 });
    // What may be another bar altogether stays so; a neighbour that is none of the set's goes.
    expect(barInSet(set, { ...heard, pitch: 79, sounding: 79, nextBest: 91 }).nextBest).toBe(91);
    expect(barInSet(set, { ...heard, pitch: 76.64, sounding: 77, nextBest: 89 }).nextBest).toBe(77);
    expect(barInSet(set, { ...heard, pitch: 76.9, sounding: 89, nextBest: 77 }).nextBest).toBeUndefined();
    // Far from every bar of the set, and without one, it stays as it was heard.
    expect(named(72)).toEqual([76, 77]);
    expect(barInSet([], { ...heard, pitch: 76.44 })).toEqual({ ...heard, pitch: 76.44 });
  });

  it('goes into the take as it is written, and so does what may be somebody else’s', () => {
    const bar = { at: 1, velocity: 90, sounding: 88, pitch: 88.4, nextBest: 89, perhapsNone: true } as const;
    const take = takeOfBars([bar], { id: 't', capturedAt: '', from: 'a.wav', soundsAbove: 12 });
    expect(take.ok && take.value.strikes).toEqual([
      { at: 1, velocity: 90, pitch: 76, nextBest: 77, perhapsNone: true },
    ]);
  });
});
