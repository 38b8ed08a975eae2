import type { Recording } from '../../core/hearing/readWav.ts';
import { noise } from './bars.ts';

/** A blow without a pitch. */
export interface TestClap {
  readonly at: number;
  readonly velocity?: number;
}

/** What is struck: two hands, a desk, a drum. */
export type Clapped = 'hands' | 'desk' | 'drum';

/**
 * Sounds of blows, invented: hands are a burst of noise that dies in a twentieth of a second, a desk a thump with some
 * noise, a drum the first modes of a round membrane, 1 : 1.59 : 2.14 (Fletcher and Rossing; from memory).
 * @param hiss loudness of the noise around @param room share that comes back from the walls for a third of a second
 */
export const soundOfClaps = (
  claps: readonly TestClap[],
  what: Clapped,
  { rate = 44100, gain = 0.4, hiss = 0.0005, room = 0, seed = 1 } = {},
): Recording => {
  const length = Math.round((Math.max(0, ...claps.map(c => c.at)) + 1) * rate);
  const random = noise(seed);
  const samples = Float32Array.from({ length }, () => hiss * random());
  const add = (i: number, value: number): void => {
    if (i < length) samples[i] = (samples[i] ?? 0) + value;
  };
  for (const { at, velocity = 90 } of claps) {
    const from = Math.round(at * rate);
    const hard = gain * (velocity / 127) ** 1.6;
    for (let i = 0; i < 0.3 * rate; i++) {
      const t = i / rate;
      const tones = (f: number, falls: number, ratios: readonly number[]): number =>
        ratios.reduce((sum, r) => sum + Math.sin(2 * Math.PI * f * r * t) * Math.exp(-falls * r * t), 0);
      const burst = random() * Math.exp(-t * (what === 'hands' ? 120 : 350));
      const body =
        what === 'hands' ? 0 : what === 'desk' ? tones(140, 60, [1, 2.3]) : tones(180, 18, [1, 1.59, 2.14]);
      add(from + i, hard * ((what === 'hands' ? 1 : 0.5) * burst + 0.5 * body));
      if (room > 0) add(from + i + Math.round(0.012 * rate), hard * room * random() * Math.exp(-t * 14));
    }
  }
  return { rate, samples };
};
