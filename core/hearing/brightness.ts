import type { Hertz } from '../foundation/units.ts';
import { CONTACT } from './constants.ts';

/** How much sounds above a frequency. It remembers what it has heard. */
export interface Brightness {
  /** Lets samples `from` to before `to` go by; how much sounds up there meanwhile, full scale about 1. */
  follow(samples: Float32Array, from: number, to: number): number;
}

/** The two halves of a Butterworth high-pass of the fourth order: 1 / (2 cos(pi / 8)) and 1 / (2 cos(3 pi / 8)). */
const HALVES = [0.5412, 1.3066] as const;
/** Less than any converter can tell: taken for nothing, for numbers near the smallest slow a processor down. */
const NOTHING = 1e-20;
/** As a share of the rate: nearer to its half a filter no longer tells what is above. */
const HIGHEST = 0.42;

/** Half of a high-pass, by the bilinear transform: weights of what came in and went out. */
const halfAt = (turn: number, quality: number): readonly [number, number, number] => {
  const slope = Math.sin(turn) / 2 / quality;
  const whole = 1 + slope;
  return [(1 + Math.cos(turn)) / 2 / whole, (2 * Math.cos(turn)) / whole, (slope - 1) / whole];
};

const createHighPass = (above: Hertz, rate: Hertz): Brightness => {
  const turn = (2 * Math.PI * above) / rate;
  const [[b, a1, a2], [d, c1, c2]] = HALVES.map(quality => halfAt(turn, quality)) as [
    readonly [number, number, number],
    readonly [number, number, number],
  ];
  // Of each half what came in, before that, what went out, before that. Not variables: see the resonators.
  const held = new Float64Array(6);
  return {
    follow: (samples, from, to) => {
      let [x1 = 0, x2 = 0, y1 = 0, y2 = 0, z1 = 0, z2 = 0] = held;
      let sum = 0;
      for (let i = from; i < to; i++) {
        const x = samples[i] as number;
        const y = b * (x - 2 * x1 + x2) + a1 * y1 + a2 * y2;
        const z = d * (y - 2 * y1 + y2) + c1 * z1 + c2 * z2;
        x2 = x1;
        x1 = x;
        y2 = y1;
        y1 = y;
        z2 = z1;
        z1 = z;
        sum += z * z;
      }
      const isStill = Math.abs(y1) + Math.abs(z1) < NOTHING;
      held.set(isStill ? [x1, x2, 0, 0, 0, 0] : [x1, x2, y1, y2, z1, z2]);
      return Math.sqrt(sum / Math.max(1, to - from));
    },
  };
};

/** High-passes at rest, at each frequency of `CONTACT.above` over which sound of a rate has anything. */
export const createBrightnesses = (rate: Hertz): readonly Brightness[] =>
  CONTACT.above.filter(above => above <= HIGHEST * rate).map(above => createHighPass(above, rate));
