import type { Hertz, MidiPitch, Seconds, Velocity } from '../foundation/units.ts';
import type { InstrumentId } from '../instruments/instruments.ts';

/** One mode of vibration of a bar that has been struck. */
export interface BarPartial {
  readonly frequency: Hertz;
  /** Relative to the strongest partial of the stroke, which is 1. */
  readonly amplitude: number;
  /** Time to fall by 60 dB. */
  readonly t60: Seconds;
}

/**
 * Roots of cosh x · cos x = 1: the modes of a uniform bar with both ends free (Euler-Bernoulli;
 * Fletcher & Rossing, The Physics of Musical Instruments). Frequencies go as their squares.
 */
const FREE_BAR_ROOTS = [
  4.730040744862704, 7.853204624095838, 10.995607838001671, 14.137165491257464, 17.27875965739948,
] as const;

/** Mode frequencies of a uniform free bar over its lowest: 1, 2.7565, 5.4039, 8.9330, 13.344. */
export const UNIFORM_BAR: readonly number[] = FREE_BAR_ROOTS.map(root => (root / FREE_BAR_ROOTS[0]) ** 2);

interface Bar {
  /** Mode frequencies over the fundamental. */
  readonly ratios: readonly number[];
  /** How strongly each mode is radiated. A tube under the bar helps odd multiples only: x3, never x4. */
  readonly radiates: readonly number[];
  readonly t60: (frequency: Hertz) => Seconds;
  /** How long the usual mallet stays on the bar at C4 and velocity 64. */
  readonly contact: Seconds;
  /** Where it is usually struck, as a share of the bar's length; the centre would silence mode 2. */
  readonly struckAt: number;
}

/** T60 = 2.2 / (loss factor · frequency): damping inside the wood. */
const wood =
  (lossFactor: number) =>
  (frequency: Hertz): Seconds =>
    2.2 / (lossFactor * frequency);

/**
 * Ratios: marimba 1:4:10:20 (Hill & Errede); xylophone 1:3:6 (a builder's published page);
 * vibraphone 1:3.984:10.668 (read in public code); glockenspiel uniform bars, overtones untuned.
 * Decay: rosewood loss factor 0.45 % (Hill & Errede); vibraphone undamped and glockenspiel from
 * memory. Contact times from memory (half-sine; yarn 3 to 5 ms, rubber 1 to 2, hard plastic 0.3 to
 * 0.6). The xylophone's loss factor, `radiates` and `struckAt` are our choice.
 */
const BARS: Readonly<Record<InstrumentId, Bar>> = {
  marimba: {
    ratios: [1, 4, 10, 20],
    radiates: [1, 0.3, 0.2, 0.1],
    t60: wood(0.0045),
    contact: 0.003,
    struckAt: 0.4,
  },
  xylophone: {
    ratios: [1, 3, 6],
    radiates: [1, 0.7, 0.35],
    t60: wood(0.0075),
    contact: 0.001,
    struckAt: 0.4,
  },
  vibraphone: {
    ratios: [1, 3.984, 10.668],
    radiates: [1, 0.3, 0.15],
    t60: frequency => 40 * (175 / frequency) ** 0.72,
    contact: 0.002,
    struckAt: 0.42,
  },
  glockenspiel: {
    ratios: UNIFORM_BAR,
    radiates: [1, 0.6, 0.45, 0.3, 0.2],
    t60: frequency => 8 * (784 / frequency) ** 0.827,
    contact: 0.0004,
    struckAt: 0.4,
  },
};

/** T60 of a vibraphone bar under its damper (from memory). */
export const DAMPED_T60: Seconds = 0.2;

/**
 * Equal temperament at A4 = 440 Hz (ISO 16).
 * @example
 * frequencyOf(69) // => 440
 */
export const frequencyOf = (pitch: MidiPitch): Hertz => 440 * 2 ** ((pitch - 69) / 12);

/** Mode frequencies over the fundamental, as the instrument's bars are tuned. */
export const modeRatios = (instrument: InstrumentId): readonly number[] => BARS[instrument].ratios;

/** Time for a partial at this frequency to fall by 60 dB, undamped. */
export const decayTime = (instrument: InstrumentId, frequency: Hertz): Seconds =>
  BARS[instrument].t60(frequency);

/**
 * How far mode `mode` (0 to 4) of a uniform free bar moves at `place` (0 to 1 along its length);
 * 1 in size at the ends. Its zeros for mode 0 are the cord holes, 22.4 % from each end.
 */
export const modeShape = (mode: number, place: number): number => {
  const root = FREE_BAR_ROOTS[mode] ?? FREE_BAR_ROOTS[4];
  const balance = (Math.cosh(root) - Math.cos(root)) / (Math.sinh(root) - Math.sin(root));
  const x = root * place;
  return (Math.cosh(x) + Math.cos(x) - balance * (Math.sinh(x) + Math.sin(x))) / 2;
};

/**
 * How long the mallet touches the bar. A harder blow shortens it by v^-0.2 (Hertz contact); a
 * smaller bar throws the mallet off sooner (the exponent 0.35 is our choice).
 */
export const contactTime = (instrument: InstrumentId, pitch: MidiPitch, velocity: Velocity): Seconds =>
  BARS[instrument].contact * (velocity / 64) ** -0.2 * (frequencyOf(60) / frequencyOf(pitch)) ** 0.35;

/**
 * How much of a blow reaches a mode: the spectrum of a half-sine push, as its envelope, without
 * the zeros a perfectly symmetrical push would have. 1 at 0 Hz, π/4 at 1/(2 · contact), then
 * falling 12 dB an octave.
 */
const blowReaches = (frequency: Hertz, contact: Seconds): number =>
  1 / Math.sqrt(1 + 0.621 * (2 * frequency * contact) ** 4);

/**
 * The partials of one stroke, lowest first.
 * @param pitch as it sounds, not as it is written
 * @example
 * partialsOf('marimba', 60, 80)[1].frequency.toFixed(0) // => (4 * frequencyOf(60)).toFixed(0)
 */
export const partialsOf = (
  instrument: InstrumentId,
  pitch: MidiPitch,
  velocity: Velocity,
): readonly BarPartial[] => {
  const bar = BARS[instrument];
  const contact = contactTime(instrument, pitch, velocity);
  const raw = bar.ratios.map((ratio, mode) => {
    const frequency = frequencyOf(pitch) * ratio;
    const moved = Math.abs(modeShape(mode, bar.struckAt)) * blowReaches(frequency, contact);
    return { frequency, amplitude: moved * (bar.radiates[mode] ?? 0), t60: bar.t60(frequency) };
  });
  const strongest = Math.max(...raw.map(partial => partial.amplitude));
  return raw.map(partial => ({ ...partial, amplitude: partial.amplitude / strongest }));
};

/**
 * Peak level of a stroke, 0 to 1: velocity to the power 1.5, so that 127 is 1 and 64 about -9 dB
 * (common practice, no source). The same for every pitch and instrument, so parts are even.
 */
export const strokePeak = (velocity: Velocity): number => (Math.min(Math.max(velocity, 0), 127) / 127) ** 1.5;
