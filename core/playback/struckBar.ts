import type { Hertz, MidiPitch, Seconds, Velocity } from '../foundation/units.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import { malletFor, type MalletId } from '../instruments/mallets.ts';
import { decayTime, frequencyOf, modeRatios, modeShape, radiated, tubeOf } from './barModes.ts';
import { MALLETS } from './mallets.ts';

/** One stroke of a mallet on a bar. */
export interface BarStroke {
  readonly instrument: InstrumentId;
  /** As it sounds, not as it is written. */
  readonly pitch: MidiPitch;
  readonly velocity: Velocity;
  /** The instrument's usual one where absent, or where its bars do not bear this one. */
  readonly mallet?: MalletId | undefined;
  /** Where the bar is struck, as a share of its length; usually a little off the centre. */
  readonly place?: number;
  /** The mallet stays on the bar. */
  readonly dead?: boolean;
}

/** One mode of vibration of a bar that has been struck. */
export interface BarPartial {
  readonly frequency: Hertz;
  /** Relative to the strongest partial of the stroke, which is 1; a tube's part is in it. */
  readonly amplitude: number;
  /** Time to fall by 60 dB. */
  readonly t60: Seconds;
  /** What share of it comes from the tube, and how long that takes to fill, as a time constant. */
  readonly tube?: { readonly share: number; readonly fills: Seconds };
}

/**
 * Where bars are usually struck: near the centre, which would silence mode 2 altogether (our choice; the recorded
 * xylophone was struck nearer to it than the others usually are).
 */
export const USUAL_PLACE: Readonly<Record<InstrumentId, number>> = {
  marimba: 0.4,
  xylophone: 0.45,
  vibraphone: 0.4,
  glockenspiel: 0.42,
};

/** T60 of a bar on which the mallet was left (common practice, no source). */
const DEAD_T60: Seconds = 0.09;

const MIDDLE_C: MidiPitch = 60;
/** Mezzo-forte, for which mallets state their contact. */
const MEZZO_FORTE: Velocity = 80;

/**
 * How fast the mallet falls, 1 at velocity 127. To the power 2.4, so that from pp (33) to ff (112) a stroke grows
 * by 25 dB (25 to 30 dB are common for percussion; common practice, no source).
 * @example
 * (20 * Math.log10(speedOf(112) / speedOf(33))).toFixed(1) // => '25.5'
 */
export const speedOf = (velocity: Velocity): number => (Math.min(Math.max(velocity, 0), 127) / 127) ** 2.4;

/** How long the mallet touches the bar: shorter the harder it is, the faster it comes and the lighter the bar. */
export const contactTime = ({ instrument, pitch, velocity, mallet }: BarStroke): Seconds => {
  const { contact, stiffens, thrown } = MALLETS[malletFor(instrument, mallet)];
  const faster = speedOf(Math.max(1, velocity)) / speedOf(MEZZO_FORTE);
  const higher = frequencyOf(pitch) / frequencyOf(MIDDLE_C);
  return contact * faster ** -stiffens * higher ** -thrown;
};

/**
 * How much of a blow reaches a mode: the spectrum of a half-sine push, as its envelope, without
 * the zeros a perfectly symmetrical push would have. 1 at 0 Hz, π/4 at 1/(2 · contact), then
 * falling 12 dB an octave.
 */
const blowReaches = (frequency: Hertz, contact: Seconds): number =>
  1 / Math.sqrt(1 + 0.621 * (2 * frequency * contact) ** 4);

/**
 * The partials of one stroke, lowest first: how far the blow moves each mode, times what of it is radiated. A tube
 * lifts the fundamental, less where the bar radiates well without.
 * @example
 * partialsOf({ instrument: 'marimba', pitch: 60, velocity: 80 })[1].frequency.toFixed(0) // => (4 * frequencyOf(60)).toFixed(0)
 */
export const partialsOf = (stroke: BarStroke): readonly BarPartial[] => {
  const { instrument, place = USUAL_PLACE[stroke.instrument], dead = false } = stroke;
  const contact = contactTime(stroke);
  const fundamental = frequencyOf(stroke.pitch);
  const tube = tubeOf(instrument);
  const raw = modeRatios(instrument).map((ratio, mode): BarPartial => {
    const frequency = fundamental * ratio;
    const leaves = radiated(instrument, frequency);
    const lifted = mode > 0 || tube === undefined ? 1 : 1 + (tube.lifts - 1) * (1 - leaves);
    const t60 = decayTime(instrument, frequency, mode);
    return {
      frequency,
      amplitude: Math.abs(modeShape(mode, place)) * blowReaches(frequency, contact) * leaves * lifted,
      t60: dead ? Math.min(t60, DEAD_T60) : t60,
      ...(lifted > 1 && tube !== undefined
        ? { tube: { share: 1 - 1 / lifted, fills: tube.quality / (Math.PI * frequency) } }
        : {}),
    };
  });
  const strongest = Math.max(...raw.map(partial => partial.amplitude));
  return raw.map(partial => ({ ...partial, amplitude: partial.amplitude / strongest }));
};
