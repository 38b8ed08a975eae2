import type { Hertz, Seconds } from '../foundation/units.ts';
import { WIDTH } from './constants.ts';

/**
 * A narrow band-pass: two complex one-pole resonators in a row, so that what stands a whole tone away is 20 dB down,
 * and the band follows a blow within twice its lag. It remembers what it has heard.
 */
export interface Resonator {
  /** The time constant of each of its two poles. */
  readonly lag: Seconds;
  /** Lets samples `from` to before `to` go by; how much sounds in the band then, full scale about 1. */
  follow(samples: Float32Array, from: number, to: number): number;
  /** Where in its swing it is then, in 256ths of a turn. */
  phase(): number;
}

/** Into how many parts a turn is cut: what is told from them is 40 dB under what sounds. */
export const PHASES = 256;

/** Less than any converter can tell: taken for nothing, for numbers near the smallest slow a processor down. */
const NOTHING = 1e-20;

/** A resonator at rest. */
export const createResonator = (frequency: Hertz, rate: Hertz): Resonator => {
  const lag = 1 / (Math.PI * WIDTH * frequency);
  const radius = Math.exp(-1 / (lag * rate));
  const turn = (2 * Math.PI * frequency) / rate;
  const re = radius * Math.cos(turn);
  const im = radius * Math.sin(turn);
  const gain = 1 - radius;
  // What the first pole holds, and the second: real and imaginary parts. Not four variables: each would be a new object
  // at every look.
  const held = new Float64Array(4);
  return {
    lag,
    follow: (samples, from, to) => {
      // Held close by while the samples go by, and without lists: this is where hearing spends its time.
      let pr = held[0] as number;
      let pi = held[1] as number;
      let qr = held[2] as number;
      let qi = held[3] as number;
      for (let i = from; i < to; i++) {
        const p = re * pr - im * pi + (samples[i] as number) * gain * Math.SQRT2;
        pi = re * pi + im * pr;
        pr = p;
        const q = re * qr - im * qi + gain * pr;
        qi = re * qi + im * qr + gain * pi;
        qr = q;
      }
      const isStillFirst = Math.abs(pr) + Math.abs(pi) < NOTHING;
      const isStill = Math.abs(qr) + Math.abs(qi) < NOTHING;
      held[0] = isStillFirst ? 0 : pr;
      held[1] = isStillFirst ? 0 : pi;
      held[2] = isStill ? 0 : qr;
      held[3] = isStill ? 0 : qi;
      return Math.sqrt(qr * qr + qi * qi);
    },
    phase: () =>
      Math.round((Math.atan2(held[3] as number, held[2] as number) * PHASES) / (2 * Math.PI)) & (PHASES - 1),
  };
};
