import type { Seconds } from '../foundation/units.ts';
import { contrastAt, loudnessAt, type PitchBands } from './bands.ts';
import type { Blow } from './blow.ts';
import { CONTACT } from './constants.ts';
import type { KnownBlows } from './knownBlows.ts';
import { newSoundIn } from './newSound.ts';

/** What is new in a bar of the take at a moment. */
export interface Freshness {
  /** How loud that is; full scale about 1. */
  readonly loudness: number;
  /** How far the bar stands out of its surroundings once its band has followed, in dB. */
  readonly contrast: number;
  /** Whether it becomes louder: a hand that damps a bar is news, too. */
  readonly swells: boolean;
}

/** When a blow fell, and the look at which it is heard. */
interface Moment {
  readonly at: Seconds;
  readonly look: number;
}
/** When a blow is looked at: at its contact, where one is heard. */
export const momentOf = ({ hop }: PitchBands, { contact, at }: Blow): Moment =>
  contact ?? { at, look: Math.max(1, Math.round(at / hop)) };

/** @param index of the bar's band @param moment when a blow falls */
export const freshnessOf = (
  bands: PitchBands,
  known: Pick<KnownBlows, 'lastOn'>,
  index: number,
  moment: Moment,
): Freshness | undefined => {
  const band = bands.all[index];
  if (band === undefined) return undefined;
  const since = known.lastOn(index, moment.at - CONTACT.soonest)?.at ?? 0;
  const look = Math.min(bands.looks - 1, moment.look + Math.round((2 * band.lag) / bands.hop));
  const before = loudnessAt(band, moment.look - 1);
  return {
    loudness: newSoundIn(bands, band, moment.look, since),
    contrast: contrastAt(bands, index, look),
    swells: band.loudness.subarray(moment.look, look + 1).some(now => now > before),
  };
};
