import { areClose, isOwn, type LineNames, namingsOf } from './compactNames.ts';
import { fullScale, isWorthSign, type Key, scaleMidi } from './key.ts';
import { LETTERS, midiOf, modulo, type Spelled } from './pitch.ts';
import type { MidiPitch } from './units.ts';

/** A pitch on a letter above or below another, if it needs no more signs than a page in the key does. */
const onLetter = (k: Key, pitch: MidiPitch, from: Spelled, by: 1 | -1): Spelled | undefined => {
  const index = LETTERS.indexOf(from.letter) + by;
  const letter = LETTERS[modulo(index, LETTERS.length)];
  if (letter === undefined) return undefined;
  const natural: Spelled = { letter, alter: 0, octave: from.octave + Math.floor(index / LETTERS.length) };
  const name = { ...natural, alter: pitch - midiOf(natural) };
  return isWorthSign(k, name) ? name : undefined;
};

/**
 * The spelling of a line in a key, one moment after the other. Notes of the scale are the key's own.
 * Others take the name nearest on the line of fifths to the tonic, as in the first stage of ps13 (Meredith
 * 2006, Journal of New Music Research 35(2)), as long as the line's names stay close (`namingsOf`); one that
 * goes on by a semitone is a neighbour or passing note and takes the letter beside the one it goes to (its
 * second stage): E D♯ E; rising C♯ to D, falling D♭ to C.
 * @param moments MIDI pitches struck together, in order of time
 * @example
 * spellLine(key('A', 'minor'), [[76], [75], [76]]).flat().map(pitchName) // => ['E5', 'D♯5', 'E5']
 */
export const spellLine = (
  k: Key,
  moments: readonly (readonly MidiPitch[])[],
): readonly (readonly Spelled[])[] => {
  const [first, ...others] = namingsOf(k, moments.flat());
  const usual = spelledBy(k, moments, first);
  if (areClose(usual.flat())) return usual;
  return others.map(names => spelledBy(k, moments, names)).find(way => areClose(way.flat())) ?? usual;
};

/**
 * Whether a raised note of a minor key falls to the same letter unraised: C♯ C in D minor, as the first stage of ps13 has
 * it, and as Bizet's Habanera and Bach's theme of the Musical Offering are printed.
 */
const fallsOnLetter = (k: Key, usual: Spelled, goal: Spelled): boolean =>
  hasMinorThird(k) && usual.letter === goal.letter && midiOf(goal) < midiOf(usual) && isOwn(k, goal);

const hasMinorThird = (k: Key): boolean =>
  scaleMidi(fullScale(k), { degree: 2, alter: 0 }) - scaleMidi(k, { degree: 0, alter: 0 }) === 3;

const spelledBy = (
  k: Key,
  moments: readonly (readonly MidiPitch[])[],
  { nameOf, allows }: LineNames,
): readonly (readonly Spelled[])[] => {
  const spelled: (readonly Spelled[])[] = [];
  let next: readonly Spelled[] = [];
  for (const moment of [...moments].reverse()) {
    const now = moment.map(pitch => {
      const usual = nameOf(pitch);
      if (isOwn(k, usual)) return usual;
      const goal = next.find(n => Math.abs(midiOf(n) - pitch) === 1);
      if (goal === undefined || fallsOnLetter(k, usual, goal)) return usual;
      const beside = onLetter(k, pitch, goal, midiOf(goal) > pitch ? -1 : 1);
      return beside !== undefined && allows(beside) ? beside : usual;
    });
    spelled.push(now);
    next = now;
  }
  return spelled.reverse();
};
