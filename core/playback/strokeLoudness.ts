import type { Seconds, Velocity } from '../foundation/units.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import { kGain } from './kWeighting.ts';
import { type BarPartial, type BarStroke, partialsOf, speedOf } from './struckBar.ts';

/**
 * How long a stroke is usually left to sound, over which its energy counts: metal without dampers goes on under what
 * follows, a vibraphone's damper falls (our choice).
 */
const LEFT_TO_SOUND: Readonly<Record<InstrumentId, Seconds>> = {
  marimba: 1,
  xylophone: 1,
  vibraphone: 0.35,
  glockenspiel: 1.5,
};

/** A stroke at velocity 127, its energy spread over the 400 ms of a block, in LUFS. */
const LOUDEST = -12;
const BLOCK: Seconds = 0.4;

/** ∫ of a decaying exponential from 0 to `until`. */
const held = (falls: number, until: Seconds): number => (1 - Math.exp(-falls * until)) / falls;

/** Energy of a partial: half the square of its envelope, over time. */
const energyOf = ({ amplitude, t60, tube }: BarPartial, until: Seconds): number => {
  const falls = 6.9078 / t60;
  const share = tube?.share ?? 0;
  const fills = tube === undefined ? falls : falls + 1 / tube.fills;
  const squared =
    held(2 * falls, until) - 2 * share * held(falls + fills, until) + share ** 2 * held(2 * fills, until);
  return (amplitude ** 2 / 2) * squared;
};

/**
 * How loud a stroke is to be, in LUFS as `LOUDEST` has it: by its velocity alone, so that parts are even and every
 * bar of an instrument speaks alike.
 * @example
 * loudnessOf(127) // => -12
 */
export const loudnessOf = (velocity: Velocity): number =>
  LOUDEST + 20 * Math.log10(speedOf(Math.max(1, velocity)));

/**
 * The factor that gives the partials of a stroke its loudness, K-weighted after ITU-R BS.1770. A dead stroke is as
 * strong as the live one would be, and so softer to hear.
 */
export const strokeGain = (stroke: BarStroke): number => {
  const until = LEFT_TO_SOUND[stroke.instrument];
  const energy = partialsOf({ ...stroke, dead: false }).reduce(
    (sum, partial) => sum + energyOf(partial, until) * kGain(partial.frequency) ** 2,
    0,
  );
  return 10 ** ((loudnessOf(stroke.velocity) + 0.691) / 20) * Math.sqrt(BLOCK / energy);
};
