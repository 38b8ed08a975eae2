import type { Mode } from '../foundation/key.ts';
import { modulo } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';

/**
 * What lydian and phrygian earn over the note on which a tune begins and ends and under which nothing lies but its lower
 * neighbour: a mode is told by its final and its compass (Powers, 'Mode', New Grove Dictionary; from memory). Other keys do
 * not, for many a major tune begins and ends on the fifth below. In points of correlation; our choice of figures.
 */
const FINAL = 0.14;
/** What lydian gets back of its cost where its fourth is no mere turn to the fifth, and the tune ends on its tonic. */
const OWN_FOURTH = 0.2;
/** What minor gets, and dorian loses, where the tune goes up as melodic minor does. */
const MELODIC = 0.25;
/** So few notes have no final. */
const FEWEST = 4;

const isFinal = (pitches: readonly MidiPitch[], tonic: number): boolean => {
  const [first] = pitches;
  return (
    first !== undefined &&
    pitches.length >= FEWEST &&
    modulo(first - tonic, 12) === 0 &&
    pitches.at(-1) === first &&
    pitches.every(pitch => pitch >= first - 2)
  );
};

/** The plain fourth is never struck, and the raised one comes from elsewhere than the fifth, or goes elsewhere. */
const hasOwnFourth = (pitches: readonly MidiPitch[], tonic: number): boolean => {
  const above = pitches.map(pitch => modulo(pitch - tonic, 12));
  if (above.includes(5) || above.at(-1) !== 0) return false;
  const turns = (neighbour: number | undefined): boolean => neighbour === 6 || neighbour === 7;
  return above.some((a, i) => a === 6 && !(turns(above[i - 1]) && turns(above[i + 1])));
};

/** The second is a semitone over the tonic wherever it is struck, and it is struck. */
const hasOwnSecond = (pitches: readonly MidiPitch[], tonic: number): boolean => {
  const above = pitches.map(pitch => modulo(pitch - tonic, 12));
  return above.includes(1) && !above.includes(2);
};

/** A minor third, and sixth and seventh both raised: the way minor goes up (any handbook of theory), and dorian never. */
const isMelodicMinor = (pitches: readonly MidiPitch[], tonic: number): boolean => {
  const above = new Set(pitches.map(pitch => modulo(pitch - tonic, 12)));
  return [3, 9, 11].every(a => above.has(a)) && ![4, 10].some(a => above.has(a));
};

/**
 * What speaks for lydian, phrygian or melodic minor over a tonic beyond the notes' profile, against dorian for the last; 0 for
 * any other mode.
 * @param pitches in order of time
 * @param tonic a pitch class, 0 for C
 * @example
 * modalEarns('lydian', [65, 69, 72, 71, 69, 67, 65], 5) > 0.3 // => true
 * modalEarns('lydian', [60, 64, 67, 66, 67, 64, 72], 0) // => 0
 * modalEarns('phrygian', [64, 65, 67, 64], 4) // => 0.14
 * modalEarns('major', [60, 62, 64, 60], 0) // => 0
 */
export const modalEarns = (mode: Mode, pitches: readonly MidiPitch[], tonic: number): number => {
  if (isMelodicMinor(pitches, tonic)) return mode === 'minor' ? MELODIC : mode === 'dorian' ? -MELODIC : 0;
  const own =
    (mode === 'lydian' && hasOwnFourth(pitches, tonic)) ||
    (mode === 'phrygian' && hasOwnSecond(pitches, tonic));
  if (!own) return 0;
  return (mode === 'lydian' ? OWN_FOURTH : 0) + (isFinal(pitches, tonic) ? FINAL : 0);
};
