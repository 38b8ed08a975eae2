import type { Seconds } from '../foundation/units.ts';
import type { Blow } from './blow.ts';
import { type PitchBand, type PitchBands, contrastAt, decibels, loudnessAt, quantile } from './bands.ts';
import type { BandOnset } from './bandOnsets.ts';
import type { Contact } from './contacts.ts';
import { betweenMoments, createTimeline, type Timeline } from './inTime.ts';
import { onRightBars } from './misheard.ts';
import { withBarsOfLoneModes } from './modeAlone.ts';
import { softAlone } from './softAlone.ts';
import { withTouches } from './touched.ts';
import { withoutVoices } from './voice.ts';
import {
  AGAIN,
  BAND_ONSET,
  CONTACT,
  LEVEL,
  MODE,
  PER_SEMITONE,
  SOONEST_AGAIN,
  SURE,
  TOGETHER,
} from './constants.ts';

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

const timelineOf = (): Timeline<Blow> => createTimeline(({ rose }) => rose);

/** Seconds from a beginning within which any blow it has to do with rose: the slowest bands lag by less. */
const ABOUT: Seconds = 0.25;

/** The blow, among those whose mode this may be, that rose nearest to it is told as soon as the mode tells it. */
const tellSooner = (bands: PitchBands, one: BandOnset, blows: Timeline<Blow>): void => {
  let nearest: Blow | undefined;
  let distance = ABOUT;
  for (const blow of blows.near(one.at, ABOUT)) {
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
  if (tells && nearest !== undefined) blows.replace(nearest, { ...nearest, at: one.at });
};

const extreme = (band: PitchBand, from: number, to: number, sign: 1 | -1): number => {
  let best = from;
  for (let look = from; look <= to; look++)
    if (sign * loudnessAt(band, look) > sign * loudnessAt(band, best)) best = look;
  return best;
};

/** A bar that rings when something above it begins, and how surely it is struck again then; 0 where it is not. */
interface Ring {
  readonly surely: number;
  readonly blow: Blow;
}

/** Whether a band rings under a beginning as a bar whose mode that may be; undefined where it does not. */
const ringOf = (
  bands: PitchBands,
  one: BandOnset,
  blows: Timeline<Blow>,
  index: number,
): Ring | undefined => {
  const { all, hop, looks } = bands;
  const band = all[index];
  if (band === undefined) return undefined;
  const lookAt = (at: Seconds): number => Math.max(0, Math.min(looks - 1, Math.round(at / hop) - 1));
  const start = lookAt(one.at);
  const from = lookAt(one.at - AGAIN.plus);
  // What swells because it is struck a little later is another blow.
  const swelled = one.at + AGAIN.swell * band.lag + AGAIN.plus;
  const next = blows
    .near(one.at, swelled + AGAIN.plus - one.at)
    .find(blow => Math.abs(blow.band - index) <= 2 && blow.rose > one.at + AGAIN.plus + 0.5 * band.lag);
  const end = lookAt(Math.min(swelled, (next?.rose ?? Infinity) - AGAIN.plus / 2));
  if (end <= start) return undefined;
  const dipped = lookAt(one.at + AGAIN.dip * band.lag + AGAIN.plus / 2);
  const lowest = extreme(band, from, Math.min(end, dipped), -1);
  const highest = extreme(band, lowest, end, 1);
  const before = extreme(band, from, start, 1);
  const most = Math.max(loudnessAt(band, highest), loudnessAt(band, before));
  const isTop = [-2, -1, 1, 2].every(
    d => loudnessAt(all[index + d], highest) <= loudnessAt(band, highest) * 1.0001,
  );
  if (most < AGAIN.ringing * one.loudness || !isTop) return undefined;
  const contrast = contrastAt(bands, index, highest);
  const low = decibels(loudnessAt(band, lowest));
  const rise = decibels(loudnessAt(band, highest)) - low;
  const fall = decibels(loudnessAt(band, before)) - low;
  const isClear = contrast >= AGAIN.contrast;
  const isFaint = contrast >= AGAIN.faintContrast && rise >= AGAIN.faintRise && one.sustain < AGAIN.dies;
  if (!isClear && !isFaint) return undefined;
  const isStruck = one.rise >= AGAIN.burst && (rise >= AGAIN.rise || (isClear && fall >= AGAIN.fall));
  const loudest = extreme(band, start, lookAt(one.at + 4 * band.lag + 0.01), 1);
  return {
    surely: isStruck ? Math.max(rise, fall) + contrast : 0,
    blow: { band: index, loudness: loudnessAt(band, loudest), rose: one.at, at: one.at },
  };
};

/** What rings far enough below a beginning for it to be a mode of it; and the bar that was struck again then. */
const ringingUnder = (
  bands: PitchBands,
  one: BandOnset,
  blows: Timeline<Blow>,
): { readonly rings: boolean; readonly again?: Blow } => {
  let best: Ring | undefined;
  for (let index = 0; semitones(one.band, index) >= MODE.from; index++) {
    if (semitones(one.band, index) > MODE.to) continue;
    const ring = ringOf(bands, one, blows, index);
    if (ring !== undefined && ring.surely > (best?.surely ?? -1)) best = ring;
  }
  if (best === undefined) return { rings: false };
  return best.surely > 0 ? { rings: true, again: best.blow } : { rings: true };
};

/** Beginnings, from low to high, as blows: modes and octaves are heard as what they belong to. */
const blowsOf = (bands: PitchBands, beginnings: readonly BandOnset[]): readonly Blow[] => {
  const blows = timelineOf();
  for (const one of beginnings) {
    const near = blows.near(one.at, ABOUT);
    if (near.some(blow => isModeOf(bands, one, blow))) {
      tellSooner(bands, one, blows);
      continue;
    }
    if (near.some(blow => isOctaveOf(bands, one, blow))) continue;
    const { rings, again } = ringingUnder(bands, one, blows);
    if (again !== undefined) {
      const isKnown = blows
        .near(again.rose, ABOUT)
        .some(
          blow =>
            Math.abs(blow.band - again.band) <= 2 &&
            Math.abs(blow.rose - again.rose) < SOONEST_AGAIN + lagOf(bands, again.band),
        );
      if (!isKnown) blows.add(again);
    } else if (!rings) {
      const { band, loudness, at } = one;
      blows.add({ band, loudness, rose: at, at });
    }
  }
  return blows.all;
};

/** Of blows in one moment on one bar or nearly, and of those far softer than another, the loudest. */
const apart = (bands: PitchBands, blows: readonly Blow[]): readonly Blow[] => {
  const kept = timelineOf();
  for (const blow of [...blows].sort((a, b) => b.loudness - a.loudness)) {
    const inTheWay = kept
      .near(blow.rose, ABOUT)
      .some(
        other =>
          isOneMoment(bands, blow.band, blow.rose, other) &&
          (Math.abs(semitones(blow.band, other.band)) < TOGETHER.apart ||
            blow.loudness < TOGETHER.beside * other.loudness),
      );
    if (!inTheWay) kept.add(blow);
  }
  return kept.all;
};

/** Blows in order of time, and how loud the take is, in dB of full scale. */
export interface Blows {
  /** Those of the take. */
  readonly all: readonly Blow[];
  /** With those that are too soft to be of it. */
  readonly withSoft: readonly Blow[];
  readonly level: number;
}

/** What was heard before what is looked at. */
export interface HeardBefore {
  /** How loud beginnings were that were surely bars, in dB of full scale. */
  readonly sure: readonly number[];
  readonly blows: readonly Blow[];
}
const NOTHING_BEFORE: HeardBefore = { sure: [], blows: [] };

/** Whether a beginning is surely a bar's. */
export const isSure = (one: BandOnset): boolean =>
  one.needsContact !== true && one.contrast >= SURE.contrast && one.sustain >= SURE.sustain;

/** Whether a mallet is heard to touch something when this begins. */
const isTouched = (bands: PitchBands, contacts: readonly Contact[], one: BandOnset): boolean => {
  const within = CONTACT.told + CONTACT.lags * lagOf(bands, one.band);
  return betweenMoments(contacts, ({ at }) => at, one.at - within, one.at + within).some(
    ({ at, rise }) => rise >= CONTACT.rise && Math.abs(at - one.at) < within,
  );
};

/** Whether two blows are one that was told twice: on one bar or beside it, sooner than it can be struck again. */
export const isSameBlow = (
  a: Pick<Blow, 'band' | 'at' | 'contact'>,
  b: Pick<Blow, 'band' | 'at' | 'contact'>,
): boolean =>
  Math.abs(a.band - b.band) <= 2 &&
  Math.abs(a.at - b.at) <
    (a.contact === undefined || b.contact === undefined ? SOONEST_AGAIN : CONTACT.soonest);

/**
 * What begins in the bands, as blows of mallets on bars. What is far softer than the take is somebody else's.
 * @param begun from the lowest band to the highest
 * @param contacts in order of time
 * @param earlier where the bands are only the end of what was heard
 */
export const blowsIn = (
  bands: PitchBands,
  begun: readonly BandOnset[],
  contacts: readonly Contact[] = [],
  earlier: HeardBefore = NOTHING_BEFORE,
): Blows => {
  const beginnings = begun.filter(one => one.needsContact !== true || isTouched(bands, contacts, one));
  const sure = [...earlier.sure, ...beginnings.filter(isSure).map(one => decibels(one.loudness))];
  const loudest = quantile(sure, 0.9);
  const able = beginnings.filter(one => decibels(one.loudness) >= loudest - BAND_ONSET.underLoudest);
  const withSoft =
    sure.length === 0
      ? []
      : withoutVoices(bands, contacts, apart(bands, withBarsOfLoneModes(bands, able, blowsOf(bands, able))));
  const loud = [...earlier.blows, ...withSoft].map(blow => decibels(blow.loudness));
  const most = Math.max(...loud);
  const level = quantile(
    loud.filter(l => l > most - 20),
    LEVEL.share,
  );
  const isOfTake = (blow: Blow): boolean => decibels(blow.loudness) >= level - LEVEL.under;
  const before = earlier.blows.filter(isOfTake);
  const alone = new Set(softAlone(bands, contacts, { blows: withSoft, earlier: earlier.blows, level }));
  const risings = new Set([...alone].map(({ rose }) => rose));
  const heard = withSoft.filter(blow => isOfTake(blow) || alone.has(blow));
  const mine = withTouches(bands, contacts, heard, before);
  const all: Blow[] = [];
  for (const blow of [...mine].sort((a, b) => a.at - b.at)) {
    if (
      (isOfTake(blow) || risings.has(blow.rose)) &&
      !betweenMoments(all, ({ at }) => at, blow.at - SOONEST_AGAIN, Infinity).some(other =>
        isSameBlow(other, blow),
      )
    )
      all.push(blow);
  }
  return {
    all: onRightBars(bands, all, before),
    withSoft: [...mine, ...withSoft.filter(blow => !isOfTake(blow) && !alone.has(blow))],
    level,
  };
};
