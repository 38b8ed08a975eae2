import type { Hertz } from '../foundation/units.ts';
import { ENOUGH_RATE } from './constants.ts';
import { finite } from './finite.ts';
import type { Recording } from './readWav.ts';

/** Half the length of the filter, in samples of the thinned sound. */
const HALF = 8;

/** By which whole factor sound of a rate is thinned. */
const factorOf = (rate: Hertz): number => Math.max(1, Math.floor(rate / ENOUGH_RATE));

/** A windowed-sinc low-pass (Hann) for a factor. Weights add up to one. */
const weightsFor = (by: number): Float64Array => {
  const half = HALF * by;
  const cut = 0.45 / by;
  const weights = Float64Array.from({ length: 2 * half + 1 }, (_, i) => {
    const t = i - half;
    const sinc = t === 0 ? 2 * cut : Math.sin(2 * Math.PI * cut * t) / (Math.PI * t);
    return sinc * (0.5 + 0.5 * Math.cos((Math.PI * t) / (half + 1)));
  });
  const whole = weights.reduce((sum, w) => sum + w, 0);
  return weights.map(w => w / whole);
};

const weighed = (samples: Float32Array, from: number, weights: Float64Array): number => {
  let sum = 0;
  for (let i = Math.max(0, -from); i < weights.length && from + i < samples.length; i++)
    sum += (weights[i] as number) * (samples[from + i] as number);
  return sum;
};

/**
 * A recording at the lowest rate that is enough, by a whole factor: low-pass, then every so-manieth sample. This is the
 * door by which sound comes to be heard: samples that are no numbers are silence from here on.
 * @example
 * thinned({ rate: 44100, samples: new Float32Array(4410) }).rate // => 22050
 */
export const thinned = ({ rate, samples: given }: Recording): Recording => {
  const samples = finite(given);
  const by = factorOf(rate);
  if (by === 1) return { rate, samples };
  const weights = weightsFor(by);
  const thin = new Float32Array(Math.floor(samples.length / by));
  for (let k = 0; k < thin.length; k++) thin[k] = weighed(samples, (k - HALF) * by, weights);
  return { rate: rate / by, samples: thin };
};

/** Thins sound that comes piece by piece. */
export interface Thinner {
  readonly rate: Hertz;
  /** The next piece, thinned as far as what came before it allows. */
  thin(samples: Float32Array): Float32Array;
}

/**
 * Gives, whatever the pieces, the samples that `thinned` gives for the whole, half a filter (under 1 ms) later.
 * @param rate 8 to 96 kHz
 */
export const createThinner = (rate: Hertz): Thinner => {
  const by = factorOf(rate);
  if (by === 1) return { rate, thin: finite };
  const weights = weightsFor(by);
  const half = HALF * by;
  // Before the first sample there is silence, as in a whole recording.
  let waiting = new Float32Array(half);
  return {
    rate: rate / by,
    thin: given => {
      const samples = finite(given);
      const all = new Float32Array(waiting.length + samples.length);
      all.set(waiting);
      all.set(samples, waiting.length);
      const ready = Math.max(0, Math.floor((all.length - weights.length) / by) + 1);
      const thin = new Float32Array(ready);
      for (let k = 0; k < ready; k++) thin[k] = weighed(all, k * by, weights);
      waiting = all.slice(ready * by);
      return thin;
    },
  };
};
