import { contrastAt, decibels, type PitchBands } from './bands.ts';
import type { Blow } from './blow.ts';
import { CONTACT, LEVEL, SOFT_ALONE } from './constants.ts';
import type { Contact } from './contacts.ts';
import { touchOf } from './touched.ts';

/** How far a blow is under the level of the take, in dB. */
const underOf = (blow: Blow, level: number): number => level - decibels(blow.loudness);

const isSoft = (blow: Blow, level: number): boolean =>
  underOf(blow, level) > LEVEL.under && underOf(blow, level) <= SOFT_ALONE.under;

/** Whether a mallet is heard to touch a bar that stands out. */
const isClear = (bands: PitchBands, contacts: readonly Contact[], blow: Blow): boolean => {
  const look = Math.round((blow.rose + 3 * (bands.all[blow.band]?.lag ?? 0)) / bands.hop);
  return (
    (touchOf(bands, contacts, blow).contact?.rise ?? 0) >= CONTACT.rise &&
    contrastAt(bands, blow.band, look) >= SOFT_ALONE.contrast
  );
};

/**
 * Blows far softer than the take that may be of it, for there are so few: whoever else plays in the room goes on and on.
 * @param blows all that were heard @param earlier of them, where the bands are only the end of what was heard
 * @param level how loud the take is, in dB of full scale
 */
export const softAlone = (
  bands: PitchBands,
  contacts: readonly Contact[],
  { blows, earlier, level }: { blows: readonly Blow[]; earlier: readonly Blow[]; level: number },
): readonly Blow[] => {
  const all = [...earlier, ...blows];
  const mine = all.filter(blow => underOf(blow, level) <= LEVEL.under).length;
  const soft = all.filter(blow => isSoft(blow, level)).length;
  if (soft * SOFT_ALONE.oneIn > mine) return [];
  return blows.filter(blow => isSoft(blow, level) && isClear(bands, contacts, blow));
};
