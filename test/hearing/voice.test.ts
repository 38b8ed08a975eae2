import { describe, expect, it } from 'vitest';
import { createEar } from '../../core/hearing/ear.ts';
import { struckBars } from '../../core/hearing/hear.ts';
import type { Recording } from '../../core/hearing/readWav.ts';
import { unsteadinessOf } from '../../core/hearing/steadiness.ts';
import { harmonicsOf } from '../../core/hearing/voice.ts';
import { MODELS, noise, soundOf, type TestBlow } from './bars.ts';
import { bandsOf, HOP } from './quarterToneBands.ts';
import { addSibilants, addVoice, laughter, singing, speech, type Syllable } from './voices.ts';

const RATE = 22050;
const SECONDS = 5;
const room = (seed: number, seconds = SECONDS): Recording => {
  const random = noise(seed);
  return { rate: RATE, samples: Float32Array.from({ length: seconds * RATE }, () => 0.0005 * random()) };
};
const VOICES = {
  'a woman talks': (seed: number) => speech(SECONDS, seed, 230),
  'a man talks': (seed: number) => speech(SECONDS, seed, 120),
  'a child talks': (seed: number) => speech(SECONDS, seed, 300),
  'somebody sings': (seed: number) => singing(SECONDS, seed, 64),
  'a child sings': (seed: number) => singing(SECONDS, seed, 72),
  'somebody laughs': (seed: number) => laughter(SECONDS, seed),
} as const satisfies Record<string, (seed: number) => readonly Syllable[]>;

const tune = (base: number, soft: boolean): TestBlow[] =>
  [0, 4, 7, 2, 12, 9, 5, 0, 4].map((up, i) => ({ at: 0.9 + 0.4 * i, midi: base + up, soft }));
/** A voice, or sibilants, as loud as the bars or softer, over them. */
const over = (bars: Recording, down: number, add: (sound: Recording) => void): Recording => {
  const voice = { rate: bars.rate, samples: new Float32Array(bars.samples.length) };
  add(voice);
  const peak = (samples: Float32Array) => samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const gain = (peak(bars.samples) / peak(voice.samples)) * 10 ** (-down / 20);
  return { ...bars, samples: bars.samples.map((x, i) => x + gain * (voice.samples[i] ?? 0)) };
};
const pitches = (sound: Recording) => struckBars(sound).map(bar => bar.sounding);

describe('a voice alone in the room', () => {
  it('is struck bars in one syllable of thirty at most, whoever it is and whatever it does', () => {
    let [syllables, heard] = [0, 0];
    for (const voice of Object.values(VOICES)) {
      for (const seed of [5, 6]) {
        const sound = room(seed);
        const said = voice(seed);
        addVoice(sound, said, { seed, scale: voice === VOICES['a man talks'] ? 1 : 1.25 });
        syllables += said.length;
        heard += struckBars(sound).length;
      }
    }
    expect(syllables).toBeGreaterThan(120);
    // Before it was told from bars, four syllables in five were.
    expect(heard).toBeLessThanOrEqual(syllables / 30);
  });

  it('is hardly a strike live, either', () => {
    const sound = room(7);
    const said = VOICES['a woman talks'](7);
    addVoice(sound, said, { seed: 7 });
    const ear = createEar(RATE);
    const heard = [...ear.hear(sound.samples).struck, ...ear.end().struck];
    expect(heard.length).toBeLessThanOrEqual(1);
  });

  it('law: louder or softer it is no more of a bar', () => {
    for (const gain of [0.01, 0.05, 0.2]) {
      const sound = room(5);
      addVoice(sound, VOICES['somebody laughs'](5), { seed: 5, gain });
      expect(struckBars(sound).length).toBeLessThanOrEqual(1);
    }
  });
});

describe('bars while somebody talks', () => {
  it.each([
    ['hard mallets on a xylophone', MODELS.xylophone, 77, false],
    ['soft mallets on a marimba, whose touch is not heard', MODELS.marimba, 60, true],
  ] as const)('%s: none is taken for a voice', (_, model, base, soft) => {
    const blows = tune(base, soft);
    const truth = blows.map(blow => blow.midi);
    // So much hiss that no contact of a soft mallet stands out of it.
    expect(pitches(soundOf(blows, model, { hiss: soft ? 0.01 : 0.001, rate: RATE }))).toEqual(truth);
    const bars = soundOf(blows, model, { hiss: 0.001, rate: RATE });
    for (const voice of [VOICES['a woman talks'], VOICES['a man talks'], VOICES['somebody laughs']])
      expect(pitches(over(bars, 20, sound => addVoice(sound, voice(3), { seed: 3 })))).toEqual(truth);
  });

  // A major chord is 4:5:6; an octave on a xylophone 1:2:3 by the lower bar's mode: partials in a row, and no voice. Each
  // with the chords that were heard whole before voices were told from bars.
  const EVERY = [
    [0, 12],
    [0, 7],
    [0, 5],
    [0, 4, 7],
    [0, 3, 7],
    [0, 5, 9],
  ];
  it.each([
    ['soft mallets on a xylophone in hiss', MODELS.xylophone, true, 44100, 0.005, EVERY],
    ['the same by a telephone', MODELS.xylophone, true, 16000, 0.0005, EVERY],
    [
      'soft mallets on a marimba in hiss',
      MODELS.marimba,
      true,
      44100,
      0.005,
      [
        [0, 7],
        [0, 5],
        [0, 4, 7],
      ],
    ],
    ['hard mallets in a narrow band', MODELS.xylophone, false, 8000, 0.001, EVERY.slice(0, 5)],
  ] as const)('bars struck together are bars: %s', (_, model, soft, rate, hiss, chords) => {
    for (const ups of chords) {
      const blows = [0, 5, 7, 2, 0].flatMap((root, i) =>
        ups.map((up): TestBlow => ({ at: 0.8 + 0.5 * i, midi: 60 + root + up, soft })),
      );
      const inOrder = (all: readonly number[]) => [...all].sort((one, other) => one - other);
      const heard = inOrder(pitches(soundOf(blows, model, { rate, hiss })));
      expect([ups, heard]).toEqual([ups, inOrder(blows.map(blow => blow.midi))]);
    }
  });

  it('sibilants that swell in 20 ms and more bring no strikes, however loud they are', () => {
    const random = noise(43);
    const hissing = Array.from({ length: 10 }, (_, i) => ({
      at: 0.7 + 0.37 * i,
      lasts: 0.1,
      middle: 5500 + 1500 * random(),
      swells: 0.03 + 0.01 * random(),
    }));
    const blows = tune(60, true);
    const bars = soundOf(blows, MODELS.marimba, { hiss: 0.001, rate: 44100 });
    for (const down of [0, 12, 20])
      expect(pitches(over(bars, down, sound => addSibilants(sound, hissing)))).toEqual(
        blows.map(blow => blow.midi),
      );
  });
});

describe('partials that are multiples in a row', () => {
  /** C4 is 30 bands over A2; what is so many times as high, in bands. */
  const C4 = 30;
  const times = (n: number) => C4 + Math.round(24 * Math.log2(n));
  const rising = (partials: readonly number[], since = 0.5) =>
    bandsOf(400, (band, at) => (partials.map(times).includes(band) && at >= since ? 0.05 : 0.0001));
  const blow = (times_: number) => ({ band: times(times_), loudness: 0.05, rose: 0.5, at: 0.5 });

  it('are counted with the blow’s own, wherever it stands among them', () => {
    expect([1, 2, 3, 4].map(n => harmonicsOf(rising([1, 2, 3, 4]), blow(n)))).toEqual([4, 4, 4, 4]);
    expect(harmonicsOf(rising([2, 3, 4]), blow(3))).toBe(3);
    // What may be another bar's, struck with it, does not count: 3 of 1, and a bar at 2 with its own 6.
    expect(harmonicsOf(rising([1, 2, 3]), blow(2), [blow(1)])).toBe(1);
    expect(harmonicsOf(rising([4, 5, 6, 7]), blow(4), [blow(5)])).toBe(1);
    expect(harmonicsOf(rising([4, 5, 6, 7]), blow(6), [blow(5)])).toBe(2);
  });

  it('are none in the modes of bars: 1:3:6, 1:4:10, 1:2.76:5.4', () => {
    for (const modes of [
      [1, 3, 6],
      [1, 4, 10],
      [1, 2.756, 5.404],
    ])
      expect(harmonicsOf(rising(modes), blow(1))).toBe(1);
  });

  it('are not what rang before, nor what is far softer', () => {
    expect(harmonicsOf(rising([1, 2, 3], -1), blow(1))).toBe(1);
    const soft = bandsOf(400, (band, at) =>
      at < 0.5 ? 0.00001 : band === times(1) ? 0.05 : [2, 3].map(times).includes(band) ? 0.002 : 0.00001,
    );
    expect(harmonicsOf(soft, blow(1))).toBe(1);
  });
});

describe('how unsteady a swing is', () => {
  const LOOKS = 60;
  /** A band whose swing has this loudness and this turn, in radians, at each look. */
  const bandOf = (loudness: (look: number) => number, turn: (look: number) => number) => ({
    midi: 69,
    lag: 0.01,
    floor: 0,
    ownFloor: 0,
    loudness: Float32Array.from({ length: LOOKS }, (_, look) => loudness(look)),
    phase: Uint8Array.from(
      { length: LOOKS },
      (_, look) => Math.round((turn(look) / (2 * Math.PI)) * 256) & 255,
    ),
  });
  const of = (band: ReturnType<typeof bandOf>) => unsteadinessOf(band, 0, LOOKS - 1);
  const steady = (look: number) => 1.3 * look;

  it('is next to nothing for one that dies away at one frequency, however fast', () => {
    for (const dies of [0, 0.01, 0.05])
      for (const turn of [0.2, 1.3, 2.9])
        expect(
          of(
            bandOf(
              look => Math.exp(-dies * look),
              look => turn * look,
            ),
          ),
        ).toBeLessThan(-30);
  });

  it('is much where it glides, swells or sways', () => {
    // A glide of 3 % at 440 Hz within the 0.18 s: 13 Hz.
    const glide = 2 * Math.PI * 13 * HOP;
    expect(
      of(
        bandOf(
          () => 1,
          look => steady(look) + (glide * look * look) / 2 / LOOKS,
        ),
      ),
    ).toBeGreaterThan(-11);
    expect(of(bandOf(look => look / LOOKS, steady))).toBeGreaterThan(-14);
    expect(
      of(
        bandOf(
          () => 1,
          look => steady(look) + Math.sin(look / 6),
        ),
      ),
    ).toBeGreaterThan(-11);
    expect(of(bandOf(() => 0, steady))).toBe(0);
  });
});
