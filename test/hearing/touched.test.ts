import { describe, expect, it } from 'vitest';
import { bandsOf } from '../../core/hearing/bands.ts';
import { createEar } from '../../core/hearing/ear.ts';
import { struckBars, type StruckBar } from '../../core/hearing/hear.ts';
import { newSoundIn } from '../../core/hearing/newSound.ts';
import type { Recording } from '../../core/hearing/readWav.ts';
import { renderStroke } from '../../core/playback/renderStroke.ts';
import { MODELS, noise, soundOf, type TestBlow } from './bars.ts';
import { recordedPhrase } from './recorded.ts';

const RATE = 22050;
const RANG = 0.3;
/** A 523 Hz tone that dies away from 0.1 s on, struck again at 0.3 s as hard as it was, in any phase of its swing. */
const ringing = (again: number, phase: number): Float32Array =>
  Float32Array.from({ length: RATE }, (_, i) => {
    const t = i / RATE - 0.1;
    const w = 2 * Math.PI * 523.25;
    if (t < 0) return 0;
    const old = 0.2 * Math.exp(-4 * t) * Math.sin(w * t);
    const late = t - RANG + 0.1;
    return old + (late < 0 ? 0 : again * 0.2 * Math.exp(-4 * late) * Math.sin(w * late + phase));
  });
const freshIn = (samples: Float32Array): { fresh: number; before: number; after: number } => {
  const bands = bandsOf({ rate: RATE, samples });
  const band = bands.all[54];
  if (band === undefined) throw new Error('no such band');
  const look = Math.round(RANG / bands.hop);
  return {
    fresh: newSoundIn(bands, band, look, 0.1),
    before: band.loudness[look - 1] ?? 0,
    after: band.loudness[look + 20] ?? 0,
  };
};

describe('what is new in a bar that rings', () => {
  it('is as loud as the blow, whether the blow adds to the old swing or takes from it', () => {
    const still = freshIn(ringing(0, 0));
    expect(20 * Math.log10(still.fresh / still.before)).toBeLessThan(-30);
    const changes: number[] = [];
    for (let k = 0; k < 8; k++) {
      const { fresh, before, after } = freshIn(ringing(1, (k * Math.PI) / 4));
      expect(Math.abs(20 * Math.log10(fresh / 0.1 / Math.SQRT2))).toBeLessThan(3);
      changes.push(20 * Math.log10(after / before));
    }
    // Loudness alone does not tell: it rises in one phase and falls in another.
    expect(Math.max(...changes)).toBeGreaterThan(5);
    expect(Math.min(...changes)).toBeLessThan(-3);
  });
});

/** Other bars first, so that mallets are known to be hard; then one bar and the same again. */
const struckTwice = (gap: number, first = 100, second = 70): TestBlow[] => [
  ...[0, 4, 7, 9].map((up, i) => ({ at: 0.7 + 0.3 * i, midi: 77 + up, velocity: 90 })),
  { at: 2.1, midi: 79, velocity: first },
  { at: 2.1 + gap, midi: 79, velocity: second },
];
/** What the ear tells for good of the same sound, piece by piece. */
const heardLive = ({ rate, samples }: Recording): readonly StruckBar[] => {
  const ear = createEar(rate);
  const told: StruckBar[] = [];
  for (let i = 0; i < samples.length; i += 256) told.push(...ear.hear(samples.subarray(i, i + 256)).struck);
  return [...told, ...ear.end().struck];
};
const whole = (blows: readonly TestBlow[], sound = soundOf(blows, MODELS.xylophone)) => {
  const heard = struckBars(sound);
  const middle = heard.map((bar, i) => bar.at - (blows[i]?.at ?? 0)).sort((a, b) => a - b)[heard.length >> 1];
  return { heard, off: heard.map((bar, i) => bar.at - (blows[i]?.at ?? 0) - (middle ?? 0)) };
};

describe('a bar that is struck again while it rings', () => {
  it.each([0.035, 0.06, 0.08, 0.13, 0.2, 0.35])('%f s later, softer: both blows, to 6 ms', gap => {
    const blows = struckTwice(gap);
    for (const sound of [soundOf(blows, MODELS.xylophone), recordedPhrase(blows, 0.001)]) {
      const { heard, off } = whole(blows, sound);
      expect(heard.map(bar => bar.sounding)).toEqual(blows.map(blow => blow.midi));
      for (const seconds of off) expect(Math.abs(seconds)).toBeLessThan(0.006);
    }
  });

  it('through the microphone the same, told at once and for good', () => {
    const blows = [...struckTwice(0.13), ...struckTwice(0.06).map(blow => ({ ...blow, at: blow.at + 2 }))];
    const { rate, samples } = recordedPhrase(blows, 0.001);
    const ear = createEar(rate);
    const told = [ear.hear(samples), ear.end()];
    for (const bars of [told.flatMap(one => one.struck), told.flatMap(one => one.atOnce)])
      expect([...bars].sort((a, b) => a.at - b.at).map(bar => bar.sounding)).toEqual(
        blows.map(blow => blow.midi),
      );
  });

  it('a knock on something else while it rings is no blow on it', () => {
    // As hard as a mallet, while the bar rings loud and clear.
    const blows = struckTwice(0.35).slice(0, 5);
    const { rate, samples } = soundOf(blows, MODELS.vibraphone);
    const random = noise(8);
    for (let i = 0; i < 0.01 * rate; i++) {
      const place = Math.round(2.3 * rate) + i;
      samples[place] = (samples[place] ?? 0) + 0.15 * Math.exp(-i / 100) * random();
    }
    expect(whole(blows, { rate, samples }).heard).toHaveLength(5);
  });

  it('a soft echo of its contact is none either', () => {
    const blows = struckTwice(0.35).slice(0, 5);
    const { rate, samples } = soundOf(blows, MODELS.xylophone);
    const later = Math.round(0.09 * rate);
    // 18 dB down, as from a wall fifteen metres away.
    const room = samples.map((x, i) => x + 0.125 * (samples[i - later] ?? 0));
    expect(whole(blows, { rate, samples: room }).heard).toHaveLength(5);
  });
});

it('so soon that the band has not settled, the contacts tell how loud it was', () => {
  const blows = [0, 4, 7, 9, 0, 0].map((up, i) => ({
    at: [0.7, 1, 1.3, 1.6, 2.1, 2.155][i] ?? 0,
    midi: 65 + up,
    velocity: i === 5 ? 60 : 90,
  }));
  expect(struckBars(recordedPhrase(blows, 0.001)).map(bar => bar.sounding)).toEqual(
    blows.map(blow => blow.midi),
  );
});

describe('where every mallet is heard to touch its bar', () => {
  it('dates them: where most blows have a contact they are told to the look', () => {
    const blows = Array.from({ length: 16 }, (_, i) => ({
      at: 0.8 + 0.307 * i,
      midi: 60 + ((i * 5) % 25),
      velocity: 60 + ((i * 17) % 60),
    }));
    const { heard, off } = whole(blows);
    expect(heard.map(bar => bar.sounding)).toEqual(blows.map(blow => blow.midi));
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(0.003);
  });

  it('a mallet whose touch is not heard is heard by its bars, after a hard one and between its blows', () => {
    const walk = [77, 81, 84, 86, 79, 84, 81, 79];
    const blows = (isSoft: (i: number) => boolean): TestBlow[] =>
      Array.from({ length: 48 }, (_, i) => ({
        at: 0.8 + 0.4 * i,
        midi: walk[i % 8] ?? 77,
        // Eight dB softer, too.
        velocity: isSoft(i) ? 51 : 90,
        soft: isSoft(i),
      }));
    for (const all of [blows(i => i >= 43), blows(i => i % 8 === 7)]) {
      const sound = soundOf(all, MODELS.xylophone);
      const told = all.map(blow => blow.midi);
      expect(struckBars(sound).map(bar => bar.sounding)).toEqual(told);
      expect(heardLive(sound).map(bar => bar.sounding)).toEqual(told);
    }
  });

  it('a narrow sound that goes on and swells is no bar: a whistle, two pipes a little apart', () => {
    const rate = 44100;
    const tones = (all: readonly (readonly [hertz: number, loud: number, begun: number])[]): Float32Array => {
      const hiss = noise(3);
      return Float32Array.from({ length: 12 * rate }, (_, i) =>
        all.reduce(
          (so, [hertz, loud, begun]) => so + loud * Math.sin((2 * Math.PI * hertz * i) / rate + begun),
          0.0005 * hiss(),
        ),
      );
    };
    const drawn = noise(1020);
    const whistle = Array.from(
      { length: 20 },
      () => [880 + 20 * drawn(), 0.0022, Math.PI * drawn()] as const,
    );
    const pipes = [
      [440, 0.1, 0],
      [443, 0.1, 0],
    ] as const;
    for (const samples of [tones(whistle), tones(pipes)]) {
      expect(struckBars({ rate, samples })).toEqual([]);
      expect(heardLive({ rate, samples })).toEqual([]);
    }
  });

  it('bars that nobody damps are no noise: a phrase on the app’s own vibraphone', () => {
    // D and E ring for most of the recording: what their bands hold then is no floor.
    const pitches = [62, 64, 66, 64, 69, 64, 62, 64];
    const samples = new Float32Array(6 * RATE);
    const random = noise(1);
    for (let i = 0; i < samples.length; i++) samples[i] = 0.0003 * random();
    pitches.forEach((pitch, i) => {
      const stroke = renderStroke({ instrument: 'vibraphone', pitch, velocity: 90 - 5 * (i % 3) }, RATE, 8);
      const from = Math.round((0.7 + 0.3 * i) * RATE);
      stroke.forEach((x, k) => {
        if (from + k < samples.length) samples[from + k] = (samples[from + k] ?? 0) + x;
      });
    });
    expect(struckBars({ rate: RATE, samples }).map(bar => bar.sounding)).toEqual(pitches);
  });
});
