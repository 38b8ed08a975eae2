import type { Mode } from '../foundation/key.ts';
import { modulo } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';

/**
 * What lydian and phrygian earn over the note on which a tune begins and ends and under which nothing lies but its lower
 * neighbour: a mode is told by its final and its compass (Powers, 'Mode', New Grove Dictionary; from memory). Other keys do
 * not, for many a major tune begins and ends on the fifth below. In points of correlation; our choice of figures.
 */
const FINAL = 0.14;
/** What lydian gets back of its cost where its fourth is its own, and the tune ends on its tonic. */
const OWN_FOURTH = 0.2;
/** What minor gets, and dorian loses, where the tune goes up as melodic minor does. */
const MELODIC = 0.4;
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

const over = (pitches: readonly MidiPitch[], tonic: number): readonly number[] =>
  pitches.map(pitch => modulo(pitch - tonic, 12));

/** Whether such steps over the tonic come one straight after the other. */
const hasRun = (above: readonly number[], run: readonly number[]): boolean =>
  above.some((_, i) => run.every((step, k) => above[i + k] === step));

/**
 * The plain fourth is never struck, and the raised one falls to the third: one that rises to the fifth belongs to its
 * dominant, as in many a major tune.
 */
const hasOwnFourth = (pitches: readonly MidiPitch[], tonic: number): boolean => {
  const above = over(pitches, tonic);
  return !above.includes(5) && above.at(-1) === 0 && hasRun(above, [6, 4]);
};

/** The notes of the chord on the sixth degree, whose own key has the same signature: C E G in E phrygian. */
const SIXTH = new Set([0, 3, 8]);
/** So few different notes have no mode. */
const FEWEST_NOTES = 4;

/**
 * The second is a semitone over the tonic wherever it is struck, the tune ends by falling from it, and no broken chord
 * tells of the major key that begins a third below.
 */
const hasOwnSecond = (pitches: readonly MidiPitch[], tonic: number): boolean => {
  const above = over(pitches, tonic);
  const breaksSixth = above.some((_, i) => {
    const three = new Set(above.slice(i, i + 3));
    return three.size === 3 && [...three].every(step => SIXTH.has(step));
  });
  return (
    !above.includes(2) &&
    above.at(-2) === 1 &&
    above.at(-1) === 0 &&
    new Set(above).size >= FEWEST_NOTES &&
    !breaksSixth
  );
};

/**
 * A minor third, and sixth and seventh both raised: the way minor goes up (any handbook of theory), and dorian never. Where
 * it comes down with both as the signature has them, they rise straight to the tonic.
 */
const isMelodicMinor = (pitches: readonly MidiPitch[], tonic: number): boolean => {
  const above = over(pitches, tonic);
  if (!above.includes(3) || above.includes(4)) return false;
  return above.includes(10) ? hasRun(above, [9, 11, 0]) : above.includes(9) && above.includes(11);
};

/**
 * What speaks for lydian, phrygian or melodic minor over a tonic beyond the notes' profile, against dorian for the last; 0 for
 * any other mode.
 * @param pitches in order of time
 * @param tonic a pitch class, 0 for C
 * @example
 * modalEarns('lydian', [65, 69, 72, 71, 69, 67, 65], 5) > 0.3 // => true
 * modalEarns('lydian', [60, 64, 67, 66, 67, 64, 72], 0) // => 0
 * modalEarns('lydian', [60, 67, 66, 64, 65, 62, 60], 0) // => 0
 * modalEarns('phrygian', [64, 67, 69, 65, 64], 4) // => 0.14
 * modalEarns('phrygian', [64, 67, 65, 64, 62, 64], 4) // => 0
 * modalEarns('phrygian', [64, 67, 72, 71, 67, 65, 64], 4) // => 0
 * modalEarns('phrygian', [66, 69, 67, 66], 6) // => 0
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
