/** Measuring tools for tests: what is in a piece of sound, independent of how it was made. */

/** Size of the tone at `frequency` in samples[from .. from+length), Hann-windowed. A Goertzel sum. */
export const toneAt = (
  samples: ArrayLike<number>,
  frequency: number,
  sampleRate: number,
  from = 0,
  length = samples.length - from,
): number => {
  const turn = (2 * Math.PI * frequency) / sampleRate;
  const a = 2 * Math.cos(turn);
  let s1 = 0;
  let s2 = 0;
  for (let i = 0; i < length; i += 1) {
    const window = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / length);
    const s0 = (samples[from + i] ?? 0) * window + a * s1 - s2;
    s2 = s1;
    s1 = s0;
  }
  return (Math.sqrt(Math.max(0, s1 * s1 + s2 * s2 - a * s1 * s2)) * 4) / length;
};

/** The frequency of the strongest tone near `about` (within `cents`), by narrowing a search. */
export const strongestNear = (
  samples: ArrayLike<number>,
  about: number,
  sampleRate: number,
  from = 0,
  length = samples.length - from,
  cents = 60,
): number => {
  let centre = about;
  for (let span = cents; span > 0.02; span /= 4) {
    const tries = Array.from({ length: 17 }, (_, i) => centre * 2 ** (((i - 8) * span) / 8 / 1200));
    const sizes = tries.map(frequency => toneAt(samples, frequency, sampleRate, from, length));
    centre = tries[sizes.indexOf(Math.max(...sizes))] ?? centre;
  }
  return centre;
};

export const centsBetween = (a: number, b: number): number => 1200 * Math.log2(a / b);

export const peakOf = (samples: ArrayLike<number>): number => {
  let peak = 0;
  for (let i = 0; i < samples.length; i += 1) peak = Math.max(peak, Math.abs(samples[i] ?? 0));
  return peak;
};

/** Centre of the power spectrum of the first `seconds`, in Hz, between 50 Hz and 20 kHz. */
export const centroid = (
  samples: ArrayLike<number>,
  sampleRate: number,
  seconds: number,
  from = 0,
): number => {
  let [weighted, all] = [0, 0];
  for (let frequency = 50; frequency < 20000; frequency += 20) {
    const power = toneAt(samples, frequency, sampleRate, from, Math.round(seconds * sampleRate)) ** 2;
    weighted += power * frequency;
    all += power;
  }
  return weighted / all;
};
