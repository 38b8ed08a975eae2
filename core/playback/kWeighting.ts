import type { Hertz } from '../foundation/units.ts';

/** A second-order filter: y = b0 x + b1 x' + b2 x'' - a1 y' - a2 y''. */
export interface Biquad {
  readonly b: readonly [number, number, number];
  readonly a: readonly [number, number];
}

/**
 * The two filters of ITU-R BS.1770-4, Annex 1, as analogue prototypes: what they come to at 48 kHz is its
 * Tables 1 and 2 (held by a test). Frequency, quality and gain as found in many public meters.
 */
const SHELF = { frequency: 1681.974450955533, quality: 0.7071752369554196, gain: 3.999843853973347 };
const HIGH_PASS = { frequency: 38.13547087602444, quality: 0.5003270373238773 };

/**
 * The K-weighting at a sample rate: a shelf that lifts what a head lifts, then a high-pass.
 * @param sampleRate 8000 or more
 * @example
 * kWeighting(48000)[0].b[0].toFixed(6) // => '1.535125'
 */
export const kWeighting = (sampleRate: Hertz): readonly [Biquad, Biquad] => {
  const k = Math.tan((Math.PI * SHELF.frequency) / sampleRate);
  const high = 10 ** (SHELF.gain / 20);
  // The exponent of the prototype that meets the published table; a plain shelf would have 0.5.
  const band = high ** 0.4996667741545416;
  const a0 = 1 + k / SHELF.quality + k * k;
  const shelf: Biquad = {
    b: [
      (high + (band * k) / SHELF.quality + k * k) / a0,
      (2 * (k * k - high)) / a0,
      (high - (band * k) / SHELF.quality + k * k) / a0,
    ],
    a: [(2 * (k * k - 1)) / a0, (1 - k / SHELF.quality + k * k) / a0],
  };
  const p = Math.tan((Math.PI * HIGH_PASS.frequency) / sampleRate);
  const c0 = 1 + p / HIGH_PASS.quality + p * p;
  const highPass: Biquad = {
    b: [1, -2, 1],
    a: [(2 * (p * p - 1)) / c0, (1 - p / HIGH_PASS.quality + p * p) / c0],
  };
  return [shelf, highPass];
};

const sizeAt = ({ b, a }: Biquad, turn: number): number => {
  const [c, s, c2, s2] = [Math.cos(turn), Math.sin(turn), Math.cos(2 * turn), Math.sin(2 * turn)];
  const above = Math.hypot(b[0] + b[1] * c + b[2] * c2, b[1] * s + b[2] * s2);
  return above / Math.hypot(1 + a[0] * c + a[1] * c2, a[0] * s + a[1] * s2);
};

const AT_48K = kWeighting(48000);

/**
 * How much louder the K-weighting makes a tone, as a factor. Above 20 kHz it is taken for 20 kHz.
 * @example
 * (20 * Math.log10(kGain(997))).toFixed(2) // => '0.69'
 */
export const kGain = (frequency: Hertz): number => {
  const turn = (2 * Math.PI * Math.min(frequency, 20000)) / 48000;
  return sizeAt(AT_48K[0], turn) * sizeAt(AT_48K[1], turn);
};
