import { strongestNear, toneAt } from './tones.ts';

/** One mode of a stroke, as it is found in sound. */
export interface ModeTrack {
  readonly frequency: number;
  /** dB in windows of 30 ms, one every 10 ms from the onset. */
  readonly levels: readonly number[];
  /** Time to fall by 60 dB, from its slope between its loudest and 20 dB below; NaN where it fell too soon to say. */
  readonly t60: number;
}

const WINDOW = 0.03;
const HOP = 0.01;

/** Least-squares slope of levels, dB a second. */
const slopeOf = (levels: readonly number[]): number => {
  const middle = (levels.length - 1) / 2;
  const mean = levels.reduce((a, b) => a + b, 0) / levels.length;
  const over = levels.reduce((so, level, i) => so + (i - middle) * (level - mean), 0);
  return over / levels.reduce((so, _, i) => so + (i - middle) ** 2, 0) / HOP;
};

/** Where a stroke begins: the first sample of a fiftieth of its peak. */
export const onsetOf = (samples: Float32Array): number => {
  const peak = samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
  return samples.findIndex(sample => Math.abs(sample) >= 0.02 * peak);
};

/** Follows the mode nearest to `about` (within `cents`) for a second from the onset, and says how it decays. */
export const trackMode = (samples: Float32Array, about: number, rate: number, cents = 80): ModeTrack => {
  const onset = onsetOf(samples);
  const frequency = strongestNear(samples, about, rate, onset, Math.round(0.1 * rate), cents);
  const levels = Array.from(
    { length: 100 },
    (_, i) =>
      20 *
      Math.log10(
        toneAt(samples, frequency, rate, onset + Math.round(i * HOP * rate), Math.round(WINDOW * rate)) +
          1e-9,
      ),
  );
  const top = Math.max(...levels);
  const from = levels.indexOf(top);
  const fallen = levels.findIndex((level, i) => i > from && level < top - 20);
  const falling = levels.slice(from, fallen < 0 ? levels.length : fallen);
  return { frequency, levels, t60: falling.length < 4 ? Number.NaN : -60 / slopeOf(falling) };
};

/** Energy of a mode over the first second, in dB. */
export const energyIn = ({ levels }: ModeTrack): number =>
  10 * Math.log10(levels.reduce((sum, level) => sum + 10 ** (level / 10), 0));
