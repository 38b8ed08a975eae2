import type { Hertz, MidiPitch, Seconds } from '../foundation/units.ts';
import type { InstrumentId } from '../instruments/instruments.ts';

/**
 * Roots of cosh x · cos x = 1: the modes of a uniform bar with both ends free (Euler-Bernoulli;
 * Fletcher & Rossing, The Physics of Musical Instruments). Frequencies go as their squares.
 */
const FREE_BAR_ROOTS = [
  4.730040744862704, 7.853204624095838, 10.995607838001671, 14.137165491257464, 17.27875965739948,
] as const;

/** Mode frequencies of a uniform free bar over its lowest: 1, 2.7565, 5.4039, 8.9330, 13.344. */
export const UNIFORM_BAR: readonly number[] = FREE_BAR_ROOTS.map(root => (root / FREE_BAR_ROOTS[0]) ** 2);

/** The tube under a bar, tuned to its fundamental. */
export interface Tube {
  /** How much louder the fundamental becomes, as a factor. */
  readonly lifts: number;
  /** Its quality: it fills in quality / (π · frequency) seconds. */
  readonly quality: number;
}

interface BarKind {
  /** Mode frequencies over the fundamental. */
  readonly ratios: readonly number[];
  readonly t60: (frequency: Hertz, mode: number) => Seconds;
  /** Metres across: what is narrow against the wavelength goes round the bar and is lost. */
  readonly width: number;
  readonly tube?: Tube;
}

/** T60 = 2.2 / (loss factor · frequency): damping inside the wood, a loss factor for each mode. */
const wood =
  (...lossFactors: readonly number[]) =>
  (frequency: Hertz, mode: number): Seconds =>
    2.2 / ((lossFactors[Math.min(mode, lossFactors.length - 1)] ?? 0) * frequency);

/**
 * Ratios: marimba 1:4:10:20 (Hill & Errede); xylophone 1:3:6 (a builder's published page), its fourth as
 * recorded; vibraphone 1:3.984:10.668 (read in public code); glockenspiel uniform bars, overtones untuned.
 * Decay: rosewood loss factor 0.45 % (Hill & Errede); the xylophone's as recorded (test/playback/recorded.test.ts);
 * vibraphone undamped and glockenspiel from memory. Widths from memory. The xylophone's tube fills and lifts as
 * recorded; that wider bars over longer tubes gain more is our choice.
 */
const BARS: Readonly<Record<InstrumentId, BarKind>> = {
  marimba: {
    ratios: [1, 4, 10, 20],
    t60: wood(0.0045),
    width: 0.055,
    tube: { lifts: 7, quality: 25 },
  },
  xylophone: {
    ratios: [1, 3, 6, 11.4],
    t60: wood(0.0019, 0.0026, 0.0026, 0.003),
    width: 0.038,
    tube: { lifts: 2.5, quality: 25 },
  },
  vibraphone: {
    ratios: [1, 3.984, 10.668],
    t60: frequency => 40 * (175 / frequency) ** 0.72,
    width: 0.045,
    tube: { lifts: 4, quality: 25 },
  },
  glockenspiel: {
    ratios: UNIFORM_BAR,
    t60: frequency => 8 * (784 / frequency) ** 0.827,
    width: 0.03,
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

/**
 * Mode frequencies over the fundamental, as the instrument's bars are tuned.
 * @example
 * modeRatios('xylophone').slice(0, 3) // => [1, 3, 6]
 */
export const modeRatios = (instrument: InstrumentId): readonly number[] => BARS[instrument].ratios;

/**
 * Time for a partial at this frequency to fall by 60 dB, undamped. @param mode from 0, the fundamental
 * @example
 * decayTime('glockenspiel', 1000) > decayTime('marimba', 1000) // => true
 */
export const decayTime = (instrument: InstrumentId, frequency: Hertz, mode = 0): Seconds =>
  BARS[instrument].t60(frequency, mode);

/** The tube under its bars; none where bars lie over a box, as a glockenspiel's do. */
export const tubeOf = (instrument: InstrumentId): Tube | undefined => BARS[instrument].tube;

const SPEED_OF_SOUND = 343;

/**
 * How much of a bar's motion at this frequency leaves it as sound, 0 to 1: below c / (π · width) the front's
 * pressure goes round to the back, 12 dB more for each octave down (a dipole; Fletcher & Rossing).
 */
export const radiated = (instrument: InstrumentId, frequency: Hertz): number => {
  const edge = SPEED_OF_SOUND / (Math.PI * BARS[instrument].width);
  return frequency ** 2 / (frequency ** 2 + edge ** 2);
};

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
