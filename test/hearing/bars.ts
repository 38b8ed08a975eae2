import type { Recording } from '../../core/hearing/readWav.ts';

/** A bar that is struck in a test. */
export interface TestBlow {
  /** Seconds. */
  readonly at: number;
  /** Sounding MIDI number; need not be whole. */
  readonly midi: number;
  readonly velocity?: number;
  /** A mallet whose touch is not heard. */
  readonly soft?: boolean;
}

/** How a kind of bar sounds: its modes by frequency and loudness, and how long its fundamental rings. */
export interface BarModel {
  readonly modes: readonly { readonly times: number; readonly loud: number }[];
  /** Seconds to a thousandth at 500 Hz; higher bars ring shorter, in inverse proportion. */
  readonly rings: number;
}

/**
 * Modes as published: a uniform free bar 1 : 2.756 : 5.404; a xylophone tuned 1 : 3 : 6; a marimba or vibraphone
 * tuned 1 : 4 : 10 (Fletcher and Rossing, The Physics of Musical Instruments, chapter 19; ratios from memory,
 * loudness and decay invented).
 */
export const MODELS = {
  freeBar: {
    modes: [
      { times: 1, loud: 1 },
      { times: 2.756, loud: 0.3 },
      { times: 5.404, loud: 0.12 },
    ],
    rings: 3,
  },
  xylophone: {
    modes: [
      { times: 1, loud: 1 },
      { times: 3, loud: 0.5 },
      { times: 6, loud: 0.2 },
    ],
    rings: 0.7,
  },
  marimba: {
    modes: [
      { times: 1, loud: 1 },
      { times: 4, loud: 0.25 },
      { times: 10, loud: 0.08 },
    ],
    rings: 1.5,
  },
  vibraphone: {
    modes: [
      { times: 1, loud: 1 },
      { times: 4, loud: 0.15 },
      { times: 10, loud: 0.05 },
    ],
    rings: 5,
  },
} as const satisfies Record<string, BarModel>;

/** A number between -1 and 1 from a seed, anew each time. */
export const noise = (seed: number): (() => number) => {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) | 0;
    return state / 0x80000000;
  };
};

/**
 * Sound of struck bars from a plain model: decaying modes, each mode above dying faster, and a knock of 3 ms.
 * @param hiss loudness of the noise around, full scale 1
 */
export const soundOf = (
  blows: readonly TestBlow[],
  { modes, rings }: BarModel,
  { rate = 44100, gain = 0.3, hiss = 0.0005, seed = 1 } = {},
): Recording => {
  const length = Math.round((Math.max(0, ...blows.map(b => b.at)) + 1.5) * rate);
  const random = noise(seed);
  const samples = Float32Array.from({ length }, () => hiss * random());
  for (const { at, midi, velocity = 90, soft = false } of blows) {
    const from = Math.round(at * rate);
    const hard = gain * (velocity / 127) ** 1.6;
    const frequency = 440 * 2 ** ((midi - 69) / 12);
    for (let i = from; i < Math.min(length, from + (soft ? 0 : 0.003) * rate); i++)
      samples[i] = (samples[i] ?? 0) + 0.3 * hard * random();
    for (const { times, loud } of modes) {
      const f = frequency * times;
      // A soft mallet lies on the bar too long for what swings faster.
      if (f > rate * 0.45 || (soft && f > 4000)) continue;
      const decay = (6.9 / rings) * (frequency / 500) * times ** 0.8;
      for (let i = from; i < length; i++) {
        const t = (i - from) / rate;
        if (decay * t > 9) break;
        const begun = soft ? Math.min(1, t / 0.006) : 1;
        const swing = loud * Math.exp(-decay * t) * Math.sin(2 * Math.PI * f * t);
        samples[i] = (samples[i] ?? 0) + hard * begun * swing;
      }
    }
  }
  return { rate, samples };
};
