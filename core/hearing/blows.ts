import type { Seconds } from '../foundation/units.ts';
import { type PitchBand, type PitchBands, contrastAt, decibels, loudnessAt, quantile } from './bands.ts';
import type { BandOnset } from './bandOnsets.ts';
import { AGAIN, BAND_ONSET, LEVEL, MODE, PER_SEMITONE, SOONEST_AGAIN, SURE, TOGETHER } from './constants.ts';

/** A blow on a bar: its fundamental, and when the mallet fell. */
export interface Blow {
  readonly band: number;
  readonly loudness: number;
  /** When its fundamental began to rise. */
  readonly rose: Seconds;
  /** When it was struck: its modes may tell it sooner. */
  readonly at: Seconds;
}

const semitones = (above: number, below: number): number => (above - below) / PER_SEMITONE;

const lagOf = ({ all }: PitchBands, index: number): Seconds => all[index]?.lag ?? 0;

/** How long before its fundamental has risen a blow may be told by something else. */
const leeway = (bands: PitchBands, blow: Blow): Seconds => 0.5 * lagOf(bands, blow.band);

/** Whether a beginning is a mode of a bar that was struck. */
const isModeOf = (bands: PitchBands, one: BandOnset, blow: Blow): boolean => {
  const after = one.at - blow.rose;
  return (
    semitones(one.band, blow.band) >= MODE.from &&
    after > -MODE.before - leeway(bands, blow) &&
    after < MODE.after &&
    one.loudness < MODE.louder * blow.loudness
  );
};

/** Whether a beginning is only the octave that sounds along in a bar struck at the same moment. */
const isOctaveOf = (bands: PitchBands, one: BandOnset, blow: Blow): boolean =>
  Math.abs(semitones(one.band, blow.band) - 12) < 0.8 &&
  one.loudness < TOGETHER.octave * blow.loudness &&
  isOneMoment(bands, one.band, one.at, blow);

const isOneMoment = (bands: PitchBands, band: number, at: Seconds, blow: Blow): boolean =>
  Math.abs(at - blow.rose) < TOGETHER.within + 0.5 * (lagOf(bands, band) + lagOf(bands, blow.band));

/** The blow, among those whose mode this may be, that rose nearest to it, told as soon as the mode tells it. */
const toldSooner = (bands: PitchBands, one: BandOnset, blows: readonly Blow[]): readonly Blow[] => {
  let nearest: Blow | undefined;
  let distance = 1;
  for (const blow of blows) {
    const d = Math.abs(one.at - (blow.rose - leeway(bands, blow)));
    if (semitones(one.band, blow.band) < MODE.from || d >= distance) continue;
    distance = d;
    nearest = blow;
  }
  const tells =
    nearest !== undefined &&
    one.at < nearest.at &&
    nearest.rose - one.at < MODE.sooner + leeway(bands, nearest) &&
    one.loudness > MODE.toTell * nearest.loudness;
  return tells ? blows.map(blow => (blow === nearest ? { ...blow, at: one.at } : blow)) : blows;
};

const extreme = (band: PitchBand, from: number, to: number, sign: 1 | -1): number => {
  let best = from;
  for (let look = from; look <= to; look++)
    if (sign * loudnessAt(band, look) > sign * loudnessAt(band, best)) best = look;
  return best;
};

/** What rings far enough below a beginning for it to be a mode of it; and the bar that was struck again then. */
const ringingUnder = (
  bands: PitchBands,
  one: BandOnset,
  blows: readonly Blow[],
): { readonly rings: boolean; readonly again?: Blow } => {
  const { all, hop, looks } = bands;
  const lookAt = (at: Seconds): number => Math.max(0, Math.min(looks - 1, Math.round(at / hop) - 1));
  let rings = false;
  let again: Blow | undefined;
  let best = 0;
  for (let index = 0; semitones(one.band, index) >= MODE.from; index++) {
    const band = all[index];
    if (band === undefined) break;
    if (semitones(one.band, index) > MODE.to) continue;
    const from = lookAt(one.at - AGAIN.plus);
    // What swells because it is struck a little later is another blow.
    const next = blows.find(
      blow => Math.abs(blow.band - index) <= 2 && blow.rose > one.at + AGAIN.plus + 0.5 * band.lag,
    );
    const until = Math.min(
      one.at + AGAIN.swell * band.lag + AGAIN.plus,
      (next?.rose ?? Infinity) - AGAIN.plus / 2,
    );
    const end = lookAt(until);
    if (end <= lookAt(one.at)) continue;
    const lowest = extreme(
      band,
      from,
      Math.min(end, lookAt(one.at + AGAIN.dip * band.lag + AGAIN.plus / 2)),
      -1,
    );
    const highest = extreme(band, lowest, end, 1);
    const before = extreme(band, from, lookAt(one.at), 1);
    const most = Math.max(loudnessAt(band, highest), loudnessAt(band, before));
    if (most < AGAIN.ringing * one.loudness) continue;
    const isTop = [-2, -1, 1, 2].every(
      d => loudnessAt(all[index + d], highest) <= loudnessAt(band, highest) * 1.0001,
    );
    if (!isTop) continue;
    const contrast = contrastAt(bands, index, highest);
    const rise = decibels(loudnessAt(band, highest)) - decibels(loudnessAt(band, lowest));
    const isClear = contrast >= AGAIN.contrast;
    const isFaint = contrast >= AGAIN.faintContrast && rise >= AGAIN.faintRise && one.sustain < AGAIN.dies;
    if (!isClear && !isFaint) continue;
    rings = true;
    const fall = decibels(loudnessAt(band, before)) - decibels(loudnessAt(band, lowest));
    const isStruck = rise >= AGAIN.rise || (isClear && fall >= AGAIN.fall);
    if (!isStruck || one.rise < AGAIN.burst || Math.max(rise, fall) + contrast <= best) continue;
    best = Math.max(rise, fall) + contrast;
    const loudest = extreme(band, lookAt(one.at), lookAt(one.at + 4 * band.lag + 0.01), 1);
    again = { band: index, loudness: loudnessAt(band, loudest), rose: one.at, at: one.at };
  }
  return again === undefined ? { rings } : { rings, again };
};

/** Beginnings, from low to high, as blows: modes and octaves are heard as what they belong to. */
const blowsOf = (bands: PitchBands, beginnings: readonly BandOnset[]): readonly Blow[] => {
  let blows: readonly Blow[] = [];
  for (const one of beginnings) {
    if (blows.some(blow => isModeOf(bands, one, blow))) {
      blows = toldSooner(bands, one, blows);
      continue;
    }
    if (blows.some(blow => isOctaveOf(bands, one, blow))) continue;
    const { rings, again } = ringingUnder(bands, one, blows);
    if (again !== undefined) {
      const isKnown = blows.some(
        blow =>
          Math.abs(blow.band - again.band) <= 2 &&
          Math.abs(blow.rose - again.rose) < SOONEST_AGAIN + lagOf(bands, again.band),
      );
      if (!isKnown) blows = [...blows, again];
    } else if (!rings) {
      const { band, loudness, at } = one;
      blows = [...blows, { band, loudness, rose: at, at }];
    }
  }
  return blows;
};

/** Of blows in one moment on one bar or nearly, and of those far softer than another, the loudest. */
const apart = (bands: PitchBands, blows: readonly Blow[]): readonly Blow[] => {
  const kept: Blow[] = [];
  for (const blow of [...blows].sort((a, b) => b.loudness - a.loudness)) {
    const inTheWay = kept.some(
      other =>
        isOneMoment(bands, blow.band, blow.rose, other) &&
        (Math.abs(semitones(blow.band, other.band)) < TOGETHER.apart ||
          blow.loudness < TOGETHER.beside * other.loudness),
    );
    if (!inTheWay) kept.push(blow);
  }
  return kept;
};

/** Blows in order of time, and how loud the take is, in dB of full scale. */
export interface Blows {
  readonly all: readonly Blow[];
  readonly level: number;
}

/**
 * What begins in the bands, as blows of mallets on bars. What is far softer than the take is somebody else's.
 * @param beginnings from the lowest band to the highest
 */
export const blowsIn = (bands: PitchBands, beginnings: readonly BandOnset[]): Blows => {
  const sure = beginnings.filter(one => one.contrast >= SURE.contrast && one.sustain >= SURE.sustain);
  const loudest = quantile(
    sure.map(one => decibels(one.loudness)),
    0.9,
  );
  const able = beginnings.filter(one => decibels(one.loudness) >= loudest - BAND_ONSET.underLoudest);
  const blows = sure.length === 0 ? [] : apart(bands, blowsOf(bands, able));
  const [first] = blows;
  if (first === undefined) return { all: [], level: 0 };
  const near = blows.map(blow => decibels(blow.loudness)).filter(l => l > decibels(first.loudness) - 20);
  const level = quantile(near, LEVEL.share);
  const all: Blow[] = [];
  for (const blow of [...blows].sort((a, b) => a.at - b.at)) {
    if (decibels(blow.loudness) < level - LEVEL.under) continue;
    const before = all.filter(other => Math.abs(other.band - blow.band) <= 2).at(-1);
    if (before === undefined || blow.at - before.at >= SOONEST_AGAIN) all.push(blow);
  }
  return { all, level };
};
