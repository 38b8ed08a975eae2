import { ENOUGH_RATE } from './constants.ts';
import type { Recording } from './readWav.ts';

/** Half the length of the filter, in samples of the thinned sound. */
const HALF = 8;

/**
 * A recording at the lowest rate that is enough, by a whole factor: a windowed-sinc low-pass (Hann), then every
 * so-manieth sample.
 * @example
 * thinned({ rate: 44100, samples: new Float32Array(4410) }).rate // => 22050
 */
export const thinned = ({ rate, samples }: Recording): Recording => {
  const by = Math.max(1, Math.floor(rate / ENOUGH_RATE));
  if (by === 1) return { rate, samples };
  const half = HALF * by;
  const cut = 0.45 / by;
  const weights = Float64Array.from({ length: 2 * half + 1 }, (_, i) => {
    const t = i - half;
    const sinc = t === 0 ? 2 * cut : Math.sin(2 * Math.PI * cut * t) / (Math.PI * t);
    return sinc * (0.5 + 0.5 * Math.cos((Math.PI * t) / (half + 1)));
  });
  const whole = weights.reduce((sum, w) => sum + w, 0);
  const thin = new Float32Array(Math.floor(samples.length / by));
  for (let k = 0; k < thin.length; k++) {
    const from = k * by - half;
    let sum = 0;
    for (let i = Math.max(0, -from); i < weights.length && from + i < samples.length; i++)
      sum += (weights[i] as number) * (samples[from + i] as number);
    thin[k] = sum / whole;
  }
  return { rate: rate / by, samples: thin };
};
