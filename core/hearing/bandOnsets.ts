import type { Seconds } from '../foundation/units.ts';
import { type PitchBand, type PitchBands, contrastAt, decibels, loudnessAt } from './bands.ts';
import { BAND_ONSET } from './constants.ts';

/** A moment at which a band begins to sound. */
export interface BandOnset {
  /** Which band, by its place among all. */
  readonly band: number;
  readonly at: Seconds;
  /** At its loudest; full scale is about 1. */
  readonly loudness: number;
  /** How much louder it became, how far it stands out of its surroundings, in dB. */
  readonly rise: number;
  readonly contrast: number;
  /** How much of it is there a little later; a share. */
  readonly sustain: number;
  /**
   * It stands out of the noise and not of what its band holds all the time: a bar that nobody damps, or a tone that
   * goes on and swells. Only a contact tells them apart.
   */
  readonly needsContact?: true;
}

/** In lags: how long a band takes to follow a blow, and half of it. A cascade of two poles is half way after 1.68 lags. */
const FOLLOWS = 2.2;
const HALF_WAY = 1.68;
/** In lags, besides a few looks: when it is asked whether a bar still rings. */
const RINGS_FROM = 1.5;
const RINGS_TO = 4;

const riseOf = (band: PitchBand, look: number, span: number, floor = band.floor): number =>
  decibels((loudnessAt(band, look) + floor / 2) / (loudnessAt(band, look - span) + floor / 2));

const loudestIn = (band: PitchBand, from: number, to: number): number => {
  let best = from;
  for (let look = from; look <= to; look++) if (loudnessAt(band, look) > loudnessAt(band, best)) best = look;
  return best;
};

/** Whether a rise is the greatest within its span on both sides; of equal ones the first. */
const isGreatest = (rises: Float32Array, looks: number, look: number, span: number): boolean => {
  const mine = rises[look] as number;
  for (let other = Math.max(0, look - span); other <= Math.min(looks - 1, look + span); other++) {
    const rise = rises[other] as number;
    if (rise > mine || (rise === mine && other < look)) return false;
  }
  return true;
};

/** When a band that rises to its peak was half way, less what it takes a band to get there. */
const onsetOf = (band: PitchBand, hop: number, from: number, peak: number): Seconds => {
  const half = (loudnessAt(band, from) + loudnessAt(band, peak)) / 2;
  let look = Math.max(1, from);
  while (look < peak && loudnessAt(band, look) < half) look++;
  const before = loudnessAt(band, look - 1);
  const step = loudnessAt(band, look) - before;
  const part = step > 0 ? Math.min(1, Math.max(0, (half - before) / step)) : 0;
  return (look + part) * hop - HALF_WAY * band.lag;
};

/** Whether no band within a semitone is louder about then. */
const isLoudestOfItsNeighbours = ({ all, looks }: PitchBands, index: number, peak: number): boolean => {
  const mine = loudnessAt(all[index], peak);
  for (let d = -2; d <= 2; d++) {
    const other = all[index + d];
    if (d === 0 || other === undefined) continue;
    const loudest = loudestIn(other, Math.max(0, peak - 2), Math.min(looks - 1, peak + 2));
    if (loudnessAt(other, loudest) > mine * 1.0001) return false;
  }
  return true;
};

/** Over how many looks a band's rise is taken. */
export const spanOf = ({ lag }: Pick<PitchBand, 'lag'>, hop: Seconds): number =>
  Math.max(2, Math.round((FOLLOWS * lag) / hop));

/** How far into a band's looks after its peak it is asked whether the bar still rings. */
const ringsTo = ({ lag }: PitchBand, hop: Seconds): number => Math.round((RINGS_TO * lag) / hop) + 4;

/** How many looks after one must be known before it can be told for good whether something begins there. */
export const lookAheadOf = (band: PitchBand, hop: Seconds): number =>
  spanOf(band, hop) + 4 + ringsTo(band, hop);

/** By how much a band rises up to a look, in dB; 0 where it has not been heard for long enough. */
export const riseAt = (band: PitchBand, look: number, span: number): number =>
  look <= span ? 0 : riseOf(band, look, span);

/** What begins in a band, and where to go on looking. */
interface Looked {
  readonly found: readonly BandOnset[];
  readonly next: number;
}

/**
 * What begins in one band at its looks `from` to before `to`.
 * @param rises of the band, look by look
 */
export const beginningsOf = (
  bands: PitchBands,
  index: number,
  rises: Float32Array,
  { from, to }: { readonly from: number; readonly to: number },
): Looked => {
  const { all, hop, looks } = bands;
  const band = all[index];
  if (band === undefined) return { found: [], next: to };
  const span = spanOf(band, hop);
  const found: BandOnset[] = [];
  let look = from;
  for (; look < to; look++) {
    const rise = rises[look] as number;
    if (rise < BAND_ONSET.rise || !isGreatest(rises, looks, look, span)) continue;
    const peak = loudestIn(band, look, Math.min(looks - 1, look + span + 3));
    if (!isLoudestOfItsNeighbours(bands, index, peak)) continue;
    const loudness = loudnessAt(band, peak);
    if (decibels(loudness / band.floor) < BAND_ONSET.overFloor) continue;
    const contrast = contrastAt(bands, index, peak);
    const later = peak + Math.round((RINGS_FROM * band.lag) / hop) + 1;
    const last = Math.min(looks - 1, peak + ringsTo(band, hop));
    let rings = 0;
    for (let l = later; l <= last; l++) rings += loudnessAt(band, l);
    // A recording that ends here says nothing of it.
    const sustain = last < later ? 1 : rings / (last - later + 1) / loudness;
    if (contrast < BAND_ONSET.contrast || sustain < BAND_ONSET.sustain) continue;
    const isOverAll =
      decibels(loudness / band.ownFloor) >= BAND_ONSET.overFloor &&
      riseOf(band, look, span, band.ownFloor) >= BAND_ONSET.rise;
    const at = onsetOf(band, hop, look - span, peak);
    const begins = { band: index, at, loudness, rise, contrast, sustain };
    found.push(isOverAll ? begins : { ...begins, needsContact: true });
    look += Math.max(1, span >> 1);
  }
  return { found, next: look };
};

/** Every moment at which something narrow begins to sound and goes on sounding, from the lowest band to the highest. */
export const bandOnsetsIn = (bands: PitchBands): readonly BandOnset[] =>
  bands.all.flatMap((band, index) => {
    const span = spanOf(band, bands.hop);
    const rises = Float32Array.from({ length: bands.looks }, (_, look) => riseAt(band, look, span));
    return beginningsOf(bands, index, rises, { from: span + 1, to: bands.looks - 3 }).found;
  });
