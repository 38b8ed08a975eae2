import { type Key } from './key.ts';
import { fifthsOf, midiOf, modulo, type Spelled, spellAtFifths } from './pitch.ts';
import type { MidiPitch } from './units.ts';

/** A name a note was given by hand: its letter and sign, in whatever octave it lies. */
export type NoteName = Pick<Spelled, 'letter' | 'alter'>;

/**
 * How far from the tonic on the line of fifths a name may lie to be offered (our choice): in C from F♭ to B♯,
 * so that every note has both its names, and F𝄪 is there where G♯ is the tonic.
 */
const FLATWARD = 8;
const SHARPWARD = 12;

/**
 * The names a pitch can be given in a key, from the flattest to the sharpest; one, where it has no other.
 * @example
 * enharmonics(key('C'), 63).map(pitchName) // => ['E♭4', 'D♯4']
 * enharmonics(key('C'), 62).map(pitchName) // => ['D4']
 */
export const enharmonics = (k: Key, pitch: MidiPitch): readonly Spelled[] => {
  const tonic = fifthsOf(k.tonic);
  const names: Spelled[] = [];
  for (let f = tonic - FLATWARD; f <= tonic + SHARPWARD; f++) {
    const spelled = spellAtFifths(pitch, f);
    if (modulo(f * 7, 12) === modulo(pitch, 12) && Math.abs(spelled.alter) <= 2) names.push(spelled);
  }
  return names;
};

/**
 * A pitch under a name given by hand; undefined where the name does not mean that pitch (any more).
 * @example
 * named(70, { letter: 'A', alter: 1 }) // => { letter: 'A', alter: 1, octave: 4 }
 * named(71, { letter: 'A', alter: 1 }) // => undefined
 */
export const named = (pitch: MidiPitch, name: NoteName | undefined): Spelled | undefined => {
  if (name === undefined || modulo(fifthsOf(name) * 7, 12) !== modulo(pitch, 12)) return undefined;
  const spelled = spellAtFifths(pitch, fifthsOf(name));
  return midiOf(spelled) === pitch ? spelled : undefined;
};

/**
 * The next name round: what Respell writes in place of the one there is.
 * @example
 * pitchName(nextName(key('C'), { letter: 'E', alter: -1, octave: 4 })) // => 'D♯4'
 * pitchName(nextName(key('C'), { letter: 'D', alter: 1, octave: 4 })) // => 'E♭4'
 */
export const nextName = (k: Key, now: Spelled): Spelled => {
  const names = enharmonics(k, midiOf(now));
  const at = names.findIndex(name => name.letter === now.letter && name.alter === now.alter);
  return names[(at + 1) % Math.max(1, names.length)] ?? now;
};
