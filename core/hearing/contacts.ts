import type { Seconds } from '../foundation/units.ts';
import { decibels, type PitchBands } from './bands.ts';
import { CONTACT } from './constants.ts';

/** A moment at which something hard was hit: all of the highest sound rises at once. */
export interface Contact {
  readonly at: Seconds;
  /** The look at which it is heard first. */
  readonly look: number;
  /** At its loudest; full scale is about 1. */
  readonly loudness: number;
  /** By how much it is brighter than just before, in dB. */
  readonly rise: number;
}

const loudestIn = (values: Float32Array, from: number, to: number): number => {
  let loudest = 0;
  for (let i = Math.max(0, from); i <= to; i++) loudest = Math.max(loudest, values[i] ?? 0);
  return loudest;
};

/** By how much it is brighter at a look than it was just before, in dB, where it is that most. */
const brighterAt = (bright: readonly Float32Array[], look: number): number => {
  let best = 1;
  for (const values of bright) {
    const now = loudestIn(values, look, look + 1) + CONTACT.hiss;
    best = Math.max(best, now / (loudestIn(values, look - CONTACT.before, look - 1) + CONTACT.hiss));
  }
  return decibels(best);
};

/** Whether nothing near rises more; of equal ones the first. */
const isGreatest = (rises: Float32Array, i: number): boolean => {
  const mine = rises[i] as number;
  const last = Math.min(rises.length - 1, i + CONTACT.apart);
  for (let other = Math.max(0, i - CONTACT.apart); other <= last; other++) {
    const rise = rises[other] as number;
    if (rise > mine || (rise === mine && other < i)) return false;
  }
  return true;
};

/**
 * Whether it goes on growing brighter: a sibilant swells, a mallet's touch is over at once. What becomes bright at one
 * blow in the meantime is the next mallet's.
 * @param rises by how much it is brighter at each look than just before
 */
const isSwelling = (
  { values, rises }: { readonly values: Float32Array; readonly rises: (look: number) => number },
  look: number,
  loudness: number,
): boolean => {
  const [from, to] = CONTACT.swells;
  for (let later = look + from; later <= look + to; later++) {
    if (rises(later - 1) >= CONTACT.faint) return false;
    if (decibels(values[later] ?? 0) - decibels(loudness) > CONTACT.grows) return true;
  }
  return false;
};

/**
 * Contacts from a look on. High modes beat with one another, so that they swell and fade too, but no higher than they
 * were a few looks before; a mallet on a bar, however that rings, brings what is far louder than they are by then. So
 * does a sibilant, which swells.
 */
export const contactsIn = ({ bright, hop, looks }: PitchBands, from = 0): readonly Contact[] => {
  const found: Contact[] = [];
  const [all] = bright;
  if (all === undefined) return found;
  // What is kept of sound that goes on may hold older looks beyond.
  const heard = all.subarray(0, looks);
  const first = Math.max(CONTACT.before, from);
  const length = Math.max(0, looks - 1 - first);
  const rises = Float32Array.from({ length }, (_, i) => brighterAt(bright, first + i));
  for (let i = 0; i < length; i++) {
    const rise = rises[i] as number;
    if (rise < CONTACT.faint || !isGreatest(rises, i)) continue;
    // The look that rises most may see the next one's sound.
    const look = first + i + ((all[first + i] ?? 0) * 2 < (all[first + i + 1] ?? 0) ? 1 : 0);
    const loudness = loudestIn(heard, look, look + 2);
    if (!isSwelling({ values: heard, rises: later => rises[later - first] ?? 0 }, look, loudness))
      found.push({ at: (look + 0.5) * hop, look, loudness, rise });
  }
  return found;
};
