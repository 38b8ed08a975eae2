import type { Hertz, Seconds, Velocity } from '../foundation/units.ts';
import type { StruckBar } from './hear.ts';
import type { Recording } from './readWav.ts';
import { thinned } from './thin.ts';

/** Everything is ours: set by hand on invented claps, taps and drums in a room (test/hearing/claps.ts). */
const CLAP = {
  /** Seconds between two looks, and how much is looked at. */
  hop: 0.003,
  window: 0.006,
  /** The past with which a look is compared, in looks, the last few left out. */
  past: 20,
  /** Rise over it, in dB; over what is usual in the recording; and how far under the loudest claps one may be. */
  rise: 8,
  overFloor: 9,
  under: 20,
  /** Seconds in which a second rise belongs to the same clap. */
  apart: 0.07,
} as const;

/** A velocity for claps as loud as most, and dB for ten times as much, as for bars. */
const USUAL_VELOCITY: Velocity = 100;
const TEN_TIMES = 32;
/** A blow begins in the newer half of the look that shows it. */
const NEWER: Seconds = 0.75 * CLAP.window;
/** What stands for a clap where a pitch must stand: the middle line of the stave, as it is written. */
export const CLAP_PITCH = 71;
/** Fewer than this are no rhythm. */
const FEWEST = 3;

const quantile = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))] ??
  -Infinity;

/** How many samples lie between two looks, and how many are looked at. */
export const clapLook = (rate: Hertz): { readonly hop: number; readonly size: number } => ({
  hop: Math.max(1, Math.round(CLAP.hop * rate)),
  size: Math.max(2, Math.round(CLAP.window * rate)),
});

/** Loudness of one look in dB: of what changes from sample to sample, for claps are sharp and rooms hum. */
export const sharpness = (samples: Float32Array, from: number, size: number): number => {
  let sum = 0;
  for (let i = from + 1; i < from + size; i++) sum += ((samples[i] ?? 0) - (samples[i - 1] ?? 0)) ** 2;
  return 10 * Math.log10(sum / size + 1e-12);
};

/** A blow at a look, and how loud it is in dB. */
export interface ClapAt {
  readonly look: number;
  readonly loud: number;
}

/** Looks after a rise that tell how loud the clap is; looks before one that it is held against. */
export const CLAP_TOLD = 4;
export const CLAP_PAST = CLAP.past;

/**
 * Whether a clap begins at a look, and how loud it is.
 * @param looks in dB, up to CLAP_TOLD after it and CLAP_PAST before it @param last the look of the clap before
 */
export const clapAt = (
  looks: readonly number[],
  k: number,
  { floor, last }: { readonly floor: number; readonly last: number | undefined },
): ClapAt | undefined => {
  const now = looks[k] ?? -Infinity;
  const past = Math.max(...looks.slice(Math.max(0, k - 6), Math.max(0, k - 1)), -120);
  const before = quantile(looks.slice(Math.max(0, k - CLAP.past), Math.max(0, k - 1)), 0.5);
  const rises = now > Math.max(past, Number.isFinite(before) ? before : -120) + CLAP.rise;
  const isApart = last === undefined || k - last >= Math.round(CLAP.apart / CLAP.hop);
  return rises && isApart && now >= floor + CLAP.overFloor
    ? { look: k, loud: Math.max(...looks.slice(k, k + CLAP_TOLD + 1)) }
    : undefined;
};

/** How loud the room is without claps, in dB. @param looks in dB */
export const loudnessOfRoom = (looks: readonly number[]): number => quantile(looks, 0.25);
/** How loud most claps are, in dB. */
export const loudnessOfClaps = (claps: readonly ClapAt[]): number =>
  quantile(
    claps.map(one => one.loud),
    0.7,
  );
/** Whether a clap is loud enough beside the others to be one. */
export const isLoud = ({ loud }: ClapAt, level: number): boolean => loud > level - CLAP.under;

/** A clap as a blow that was struck. @param every seconds from one look to the next */
export const blowOf = ({ look, loud }: ClapAt, level: number, every: Seconds): StruckBar => ({
  at: look * every + NEWER,
  sounding: CLAP_PITCH,
  pitch: CLAP_PITCH,
  velocity: Math.max(1, Math.min(127, Math.round(USUAL_VELOCITY * 10 ** ((loud - level) / TEN_TIMES)))),
  unpitched: true,
});

/**
 * Claps, taps and strokes of a drum in a recording, in order of time: blows without a pitch that counts.
 * @param recording 8 to 96 kHz; where it is silent nothing is heard
 * @example
 * clapsIn({ rate: 44100, samples: new Float32Array(44100) }) // => []
 */
export const clapsIn = (recording: Recording): readonly StruckBar[] => {
  const { rate, samples } = thinned(recording);
  const { hop, size } = clapLook(rate);
  const looks: number[] = [];
  for (let from = 0; from + size <= samples.length; from += hop) looks.push(sharpness(samples, from, size));
  const floor = loudnessOfRoom(looks);
  const found: ClapAt[] = [];
  for (let k = 0; k < looks.length; k++) {
    const clap = clapAt(looks, k, { floor, last: found.at(-1)?.look });
    if (clap !== undefined) found.push(clap);
  }
  const level = loudnessOfClaps(found);
  return found.filter(one => isLoud(one, level)).map(one => blowOf(one, level, hop / rate));
};

/**
 * What was struck in a recording: bars, or a rhythm without pitches where far more blows are heard than bars.
 * @example
 * barsOrClaps([], []) // => []
 */
export const barsOrClaps = (bars: readonly StruckBar[], claps: readonly StruckBar[]): readonly StruckBar[] =>
  claps.length >= FEWEST && 2 * bars.length < claps.length ? claps : bars;
