import { type Biquad, kWeighting } from '../../core/playback/kWeighting.ts';

/**
 * A loudness meter after ITU-R BS.1770-4 for tests and benchmarks: K-weighting, blocks of 400 ms with 75 % overlap,
 * gates at -70 LUFS and 10 LU below what is left. One or two channels, each of weight 1.
 */
type Channels = readonly ArrayLike<number>[];

const through = (samples: ArrayLike<number>, { b, a }: Biquad): Float64Array => {
  const out = new Float64Array(samples.length);
  let [x1, x2, y1, y2] = [0, 0, 0, 0];
  for (let i = 0; i < samples.length; i += 1) {
    const x = samples[i] ?? 0;
    const y = b[0] * x + b[1] * x1 + b[2] * x2 - a[0] * y1 - a[1] * y2;
    [x2, x1, y2, y1] = [x1, x, y1, y];
    out[i] = y;
  }
  return out;
};

const lufs = (power: number): number => -0.691 + 10 * Math.log10(power);

/** K-weighted mean square of each block, channels added. @param block and @param step in seconds */
const blockPowers = (channels: Channels, rate: number, block = 0.4, step = 0.1): readonly number[] => {
  const [shelf, highPass] = kWeighting(rate);
  const length = Math.round(block * rate);
  const sums = channels.map(channel => {
    const weighted = through(through(channel, shelf), highPass);
    const sum = new Float64Array(weighted.length + 1);
    for (let i = 0; i < weighted.length; i += 1) sum[i + 1] = (sum[i] ?? 0) + (weighted[i] ?? 0) ** 2;
    return sum;
  });
  const whole = Math.min(...channels.map(channel => channel.length));
  const powers: number[] = [];
  for (let k = 0; ; k += 1) {
    const from = Math.round(k * step * rate);
    if (from + length > whole) return powers;
    powers.push(sums.reduce((so, sum) => so + ((sum[from + length] ?? 0) - (sum[from] ?? 0)) / length, 0));
  }
};

const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;

/** Loudness of the whole, gated, in LUFS; -Infinity where nothing passes the gate. */
export const integratedLoudness = (channels: Channels, rate: number): number => {
  const heard = blockPowers(channels, rate).filter(power => lufs(power) > -70);
  if (heard.length === 0) return -Infinity;
  const gate = lufs(mean(heard)) - 10;
  return lufs(mean(heard.filter(power => lufs(power) > gate)));
};

/** The loudest 400 ms, in LUFS, looked for every 10 ms. */
export const loudestMoment = (channels: Channels, rate: number): number =>
  lufs(Math.max(0, ...blockPowers(channels, rate, 0.4, 0.01)));

const TAPS = 24;
/** Windowed sinc for the three places between two samples; BS.1770-4 Annex 2 asks for four times the rate. */
const BETWEEN = [1, 2, 3].map(quarter =>
  Float64Array.from({ length: TAPS }, (_, i) => {
    const x = i - TAPS / 2 + 1 - quarter / 4;
    const window = 0.5 + 0.5 * Math.cos((Math.PI * x) / (TAPS / 2));
    return (window * Math.sin(Math.PI * x)) / (Math.PI * x);
  }),
);

/** The highest peak between samples too, in dB to full scale (dBTP). */
export const truePeak = (channels: Channels): number => {
  let peak = 0;
  for (const samples of channels) {
    for (let i = -TAPS; i < samples.length + TAPS; i += 1) {
      peak = Math.max(peak, Math.abs(samples[i] ?? 0));
      for (const taps of BETWEEN) {
        let sum = 0;
        for (let k = 0; k < TAPS; k += 1) sum += (taps[k] ?? 0) * (samples[i + k - TAPS / 2 + 1] ?? 0);
        peak = Math.max(peak, Math.abs(sum));
      }
    }
  }
  return 20 * Math.log10(peak);
};
