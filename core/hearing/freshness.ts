import type { Seconds } from '../foundation/units.ts';
import { contrastAt, loudnessAt, type PitchBands } from './bands.ts';
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

/** @param index of the bar's band @param moment when a blow falls, and its look */
export const freshnessOf = (
  bands: PitchBands,
  known: KnownBlows,
  index: number,
  moment: { readonly at: Seconds; readonly look: number },
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
