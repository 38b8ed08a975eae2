import type { Recording } from '../../core/hearing/readWav.ts';
import { noise } from './bars.ts';

/**
 * Invented voices, from the usual model of speech: pulses of the vocal folds (or noise) through resonances of the mouth.
 * Formants of five vowels for an adult man in Hz (Peterson and Barney 1952, rounded, from memory); a child's lie higher
 * by about a third.
 */
const VOWELS = [
  [730, 1090, 2440, 3400],
  [530, 1840, 2480, 3500],
  [270, 2290, 3010, 3600],
  [570, 840, 2410, 3300],
  [300, 870, 2240, 3300],
] as const;
const BANDWIDTHS = [80, 100, 140, 200];

/** A resonance: a two-pole filter whose gain at its middle is about one whatever its width. */
const createFormant = (): ((x: number, frequency: number, width: number, rate: number) => number) => {
  let [y1, y2] = [0, 0];
  return (x, frequency, width, rate) => {
    const radius = Math.exp((-Math.PI * width) / rate);
    const turn = (2 * Math.PI * frequency) / rate;
    const y = x * (1 - radius) * 2 + 2 * radius * Math.cos(turn) * y1 - radius * radius * y2;
    [y2, y1] = [y1, y];
    return y;
  };
};

/** What a voice does for a while. */
export interface Syllable {
  /** Seconds. */
  readonly at: number;
  readonly lasts: number;
  /** Hz at its beginning and its end. */
  readonly from: number;
  readonly to: number;
  readonly vowel: number;
  /** Seconds in which it swells: a voice takes 20 ms at least, singing 50 to 100 (from memory). */
  readonly swells: number;
  /** Half the width of its vibrato, in semitones; five and a half a second. */
  readonly vibrato?: number;
  /** Louder than the others. */
  readonly loud?: number;
}

/** Adds a voice to samples. @param scale of the mouth: 1 for a man, 1.3 for a child */
export const addVoice = (
  { rate, samples }: Recording,
  syllables: readonly Syllable[],
  { gain = 0.1, scale = 1.25, seed = 1 } = {},
): void => {
  const random = noise(seed);
  const formants = BANDWIDTHS.map(createFormant);
  for (const one of syllables) {
    let phase = 0;
    let [tilt1, tilt2] = [0, 0];
    const vowel = VOWELS[one.vowel % VOWELS.length] ?? VOWELS[0];
    const length = Math.round(one.lasts * rate);
    const from = Math.round(one.at * rate);
    for (let i = 0; i < length + 0.05 * rate && from + i < samples.length; i++) {
      const t = i / rate;
      const along = Math.min(1, t / one.lasts);
      const sway = (one.vibrato ?? 0) * Math.sin(2 * Math.PI * 5.5 * t) * Math.min(1, t / 0.2);
      // Folds are never quite even: a hundredth of jitter.
      const f0 = (one.from + (one.to - one.from) * along) * 2 ** (sway / 12) * (1 + 0.01 * random());
      phase += f0 / rate;
      let pulse = 0.03 * random();
      if (phase >= 1) {
        phase -= 1;
        // At its own place between two samples, else the folds would sing in tune with the converter.
        pulse += rate / f0 / 50;
      }
      tilt1 += (pulse - tilt1) * Math.min(1, (2 * Math.PI * 400) / rate);
      tilt2 += (tilt1 - tilt2) * Math.min(1, (2 * Math.PI * 3000) / rate);
      const swell = Math.min(1, t / one.swells) * Math.min(1, Math.max(0, (one.lasts + 0.04 - t) / 0.04));
      let sum = 0;
      formants.forEach((formant, k) => {
        sum += formant(tilt2, (vowel[k] ?? 0) * scale, (BANDWIDTHS[k] ?? 0) * scale, rate) / (1 + 0.4 * k);
      });
      samples[from + i] = (samples[from + i] ?? 0) + gain * 8 * (one.loud ?? 1) * swell * sum;
    }
  }
};

/** Adds sibilants (s, t, sh): noise over 3 to 9 kHz that swells in 5 to 40 ms. @param gain about their peak */
export const addSibilants = (
  { rate, samples }: Recording,
  list: readonly {
    readonly at: number;
    readonly lasts: number;
    readonly middle: number;
    readonly swells: number;
  }[],
  { gain = 0.1, seed = 2 } = {},
): void => {
  const random = noise(seed);
  for (const { at, lasts, middle, swells } of list) {
    const [first, second] = [createFormant(), createFormant()];
    const from = Math.round(at * rate);
    for (let i = 0; i < (lasts + 0.02) * rate && from + i < samples.length; i++) {
      const t = i / rate;
      const swell = Math.min(1, t / swells) * Math.min(1, Math.max(0, (lasts + 0.02 - t) / 0.02));
      const hiss = second(first(random(), middle, 2500, rate), middle * 1.2, 2500, rate);
      samples[from + i] = (samples[from + i] ?? 0) + gain * 2 * swell * hiss;
    }
  }
};

const between = (random: () => number, low: number, high: number): number =>
  low + ((random() + 1) / 2) * (high - low);

/** Somebody talks: four or five syllables a second, each gliding, with breaths. */
export const speech = (seconds: number, seed: number, pitch = 230): readonly Syllable[] => {
  const random = noise(seed);
  const all: Syllable[] = [];
  let at = 0.8;
  while (at < seconds - 0.5) {
    const lasts = between(random, 0.09, 0.25);
    const from = pitch * between(random, 0.8, 1.35);
    all.push({
      at,
      lasts,
      from,
      to: from * between(random, 0.8, 1.15),
      vowel: Math.floor(between(random, 0, 5)),
      swells: between(random, 0.02, 0.05),
      loud: between(random, 0.4, 1),
    });
    at += lasts + between(random, 0.02, 0.1) + (random() > 0.75 ? 0.4 : 0);
  }
  return all;
};

/** Somebody sings a tune, as steady as singers are. */
export const singing = (seconds: number, seed: number, midi = 64): readonly Syllable[] => {
  const random = noise(seed);
  const all: Syllable[] = [];
  let at = 0.8;
  while (at < seconds - 0.7) {
    const lasts = between(random, 0.25, 0.7);
    const step = [0, 2, 4, 5, 7, 9, 12][Math.floor(between(random, 0, 7))] ?? 0;
    const f = 440 * 2 ** ((midi + step - 69) / 12);
    all.push({
      at,
      lasts,
      from: f * between(random, 0.97, 1),
      to: f,
      vowel: Math.floor(between(random, 0, 5)),
      swells: between(random, 0.03, 0.08),
      vibrato: between(random, 0, 0.4),
      loud: between(random, 0.6, 1),
    });
    at += lasts + between(random, 0.02, 0.08);
  }
  return all;
};

/** Somebody laughs: five bursts a second, falling. */
export const laughter = (seconds: number, seed: number): readonly Syllable[] => {
  const random = noise(seed);
  const all: Syllable[] = [];
  let at = 0.8;
  while (at < seconds - 1.5) {
    const high = between(random, 350, 600);
    for (let i = 0; i < 6; i++) {
      const from = high * 0.93 ** i;
      all.push({
        at,
        lasts: 0.1,
        from,
        to: from * 0.9,
        vowel: 0,
        swells: between(random, 0.015, 0.04),
        loud: 0.9 ** i,
      });
      at += between(random, 0.17, 0.22);
    }
    at += between(random, 0.3, 0.8);
  }
  return all;
};
