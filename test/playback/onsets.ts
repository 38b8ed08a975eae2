/** A plain onset detector by spectral flux, for tests: it knows nothing of how the sound was made. */

/** In-place radix-2 FFT (Cooley-Tukey); the length is a power of two. */
const fft = (re: Float64Array, im: Float64Array): void => {
  const n = re.length;
  for (let i = 1, j = 0; i < n; i += 1) {
    let bit = n >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) {
      [re[i], re[j]] = [re[j] ?? 0, re[i] ?? 0];
      [im[i], im[j]] = [im[j] ?? 0, im[i] ?? 0];
    }
  }
  for (let size = 2; size <= n; size <<= 1) {
    const turn = (-2 * Math.PI) / size;
    for (let start = 0; start < n; start += size) {
      for (let k = 0; k < size / 2; k += 1) {
        const [c, s] = [Math.cos(turn * k), Math.sin(turn * k)];
        const [a, b] = [start + k, start + k + size / 2];
        const [x, y] = [re[b] ?? 0, im[b] ?? 0];
        const [tx, ty] = [x * c - y * s, x * s + y * c];
        re[b] = (re[a] ?? 0) - tx;
        im[b] = (im[a] ?? 0) - ty;
        re[a] = (re[a] ?? 0) + tx;
        im[a] = (im[a] ?? 0) + ty;
      }
    }
  }
};

/** Samples in a window, and from one window to the next. */
const WINDOW = 1024;
const HOP = 128;
/** Flux compares frames this far apart, so that a rise slower than one hop is seen whole. */
const APART = 4;

/** Compressed magnitudes, frame by frame; frame f is centred on sample f · HOP. */
const spectra = (samples: ArrayLike<number>): Float64Array[] => {
  const frames: Float64Array[] = [];
  const hann = Float64Array.from(
    { length: WINDOW },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / WINDOW),
  );
  for (let centre = 0; centre < samples.length; centre += HOP) {
    const re = Float64Array.from(
      { length: WINDOW },
      (_, i) => (samples[centre - WINDOW / 2 + i] ?? 0) * (hann[i] ?? 0),
    );
    const im = new Float64Array(WINDOW);
    fft(re, im);
    // The cube root lets a soft stroke count beside a loud one that still rings.
    frames.push(
      Float64Array.from({ length: WINDOW / 2 }, (_, k) => Math.cbrt(Math.hypot(re[k] ?? 0, im[k] ?? 0))),
    );
  }
  return frames;
};

/** How much louder each frame is than the one `APART` before it, over all frequencies that rose. */
const flux = (frames: readonly Float64Array[]): number[] =>
  frames.map((frame, f) => {
    const before = frames[f - APART];
    if (before === undefined) return frame.reduce((so, size) => so + size, 0);
    let rise = 0;
    for (let k = 0; k < frame.length; k += 1) rise += Math.max(0, (frame[k] ?? 0) - (before[k] ?? 0));
    return rise;
  });

/** Two numbers of weights for each of some 30 sines that may ring. */
const ORDER = 64;
/** Seconds of what went before that are learnt from, and that a surprise is measured over. */
const LEARN = 0.03;
const REACH = 0.002;

/** Linear prediction by Burg's method: each sample as a weighted sum of the `order` before it. */
const predictor = (samples: ArrayLike<number>, from: number, to: number, order: number): Float64Array => {
  const n = to - from;
  let forward = Float64Array.from({ length: n }, (_, i) => samples[from + i] ?? 0);
  let backward = forward.slice();
  let weights = new Float64Array(1).fill(1);
  for (let m = 1; m <= order; m += 1) {
    let across = 0;
    let power = 1e-30;
    for (let i = m; i < n; i += 1) {
      const [f, b] = [forward[i] ?? 0, backward[i - 1] ?? 0];
      across += f * b;
      power += f * f + b * b;
    }
    const k = (-2 * across) / power;
    const next = new Float64Array(m + 1);
    for (let i = 0; i <= m; i += 1) next[i] = (weights[i] ?? 0) + k * (weights[m - i] ?? 0);
    weights = next;
    const [f, b] = [forward.slice(), backward.slice()];
    for (let i = m; i < n; i += 1) {
      f[i] = (forward[i] ?? 0) + k * (backward[i - 1] ?? 0);
      b[i] = (backward[i - 1] ?? 0) + k * (forward[i] ?? 0);
    }
    [forward, backward] = [f, b];
  }
  return weights;
};

/**
 * Where in samples[from..to) something new begins. Bars that ring are sums of decaying sines, which
 * the 30 ms before foretell; a blow is what they do not.
 */
const surpriseIn = (samples: ArrayLike<number>, from: number, to: number, sampleRate: number): number => {
  const learnt = Math.max(0, from - Math.round(LEARN * sampleRate));
  const weights = predictor(samples, learnt, Math.max(from, ORDER + 2), ORDER);
  const reach = Math.round(REACH * sampleRate);
  const errors = Float64Array.from({ length: to - from + 2 * reach }, (_, i) => {
    let error = 0;
    for (let k = 0; k <= ORDER; k += 1) error += (weights[k] ?? 0) * (samples[from - reach + i - k] ?? 0);
    return error * error;
  });
  const sum = (at: number): number => errors.subarray(at, at + reach).reduce((so, e) => so + e, 0);
  let best = from;
  let most = -1;
  for (let i = reach; i < errors.length - reach; i += 1) {
    const after = sum(i);
    const jump = Math.sqrt(after) - Math.sqrt(sum(i - reach));
    if (jump > most) {
      most = jump;
      best = from - reach + i;
    }
  }
  return best;
};
/**
 * Times of onsets in seconds, in order. Two onsets nearer than 25 ms are found as one.
 * @param threshold how far a peak of flux stands over its surroundings, as a share of the largest
 */
export const onsetsIn = (samples: ArrayLike<number>, sampleRate: number, threshold = 0.05): number[] => {
  const rises = flux(spectra(samples));
  const largest = Math.max(...rises);
  const apart = Math.round((0.025 * sampleRate) / HOP);
  const onsets: number[] = [];
  rises.forEach((rise, f) => {
    const around = rises.slice(Math.max(0, f - apart), f + apart + 1);
    if (rise < Math.max(...around)) return;
    const wide = rises.slice(Math.max(0, f - 4 * apart), f + 4 * apart + 1).sort((a, b) => a - b);
    const usual = wide[Math.floor(wide.length / 2)] ?? 0;
    if (rise - usual < threshold * largest) return;
    // Flux peaks when the window is half past the blow, APART frames after it began to rise.
    const middle = (f - APART / 2) * HOP;
    const reach = Math.round(0.012 * sampleRate);
    onsets.push(surpriseIn(samples, Math.max(1, middle - reach), middle + reach, sampleRate) / sampleRate);
  });
  return onsets;
};
