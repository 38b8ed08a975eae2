import { type Key, scaleMidi, scaleSize, signature, writableTonics } from './key.ts';
import { modulo } from './pitch.ts';

/** Where a tonic lies among the twelve pitches. */
const pitchClass = (k: Key): number => modulo(scaleMidi(k, { degree: 0, alter: 0 }), 12);

/**
 * The key so many semitones higher, in the same mode: of the spellings a page can hold the one with the fewest
 * signs; of two with as many (F♯ and G♭ major) the one with sharps where it goes up and with flats where it goes down.
 * @param semitones a whole number; below zero for lower
 * @example
 * keyName(movedKey(key('C'), 7)) // => 'G major'
 * keyName(movedKey(key('E'), 1)) // => 'F major'
 * keyName(movedKey(key('C'), -6)) // => 'G♭ major'
 */
export const movedKey = (k: Key, semitones: number): Key => {
  if (modulo(semitones, 12) === 0) return k;
  const wanted = modulo(pitchClass(k) + semitones, 12);
  const sharpward = semitones > 0 ? 1 : -1;
  const cost = (other: Key): number =>
    2 * Math.abs(signature(other)) - sharpward * Math.sign(signature(other));
  return writableTonics(k.mode)
    .map((tonic): Key => ({ ...k, tonic }))
    .filter(other => pitchClass(other) === wanted)
    .reduce((best, other) => (cost(other) < cost(best) ? other : best));
};

/**
 * By how many degrees a pitch of one key is told higher in another on the way up or down by semitones.
 * @example
 * degreesMoved(key('C'), key('G'), 7) // => 0
 * degreesMoved(key('C'), key('G'), -5) // => -7
 */
export const degreesMoved = (from: Key, to: Key, semitones: number): number => {
  const apart = scaleMidi(to, { degree: 0, alter: 0 }) - scaleMidi(from, { degree: 0, alter: 0 });
  return (scaleSize(to) * (semitones - apart)) / 12;
};
