import { fullScale, type Key, spell, toScaleAs } from './key.ts';
import { fifthsOf, LETTERS, modulo, spellAtFifths, type Spelled } from './pitch.ts';
import type { MidiPitch } from './units.ts';

/**
 * The farthest that names of one line lie apart on the line of fifths: an augmented sixth (A♭ to F♯), the widest that
 * tonal music keeps a name for. D♭ beside F♯ lies farther (Temperley 2001, The Cognition of Basic Musical Structures,
 * ch. 5: names are chosen close together on that line; the limit is common practice, no source).
 */
const WIDEST = 10;
/** The last names with one sign at most, F♭ and B♯, on the line of fifths. */
const [FLATTEST, SHARPEST] = [-8, 12];
/** The share of a line's pitch classes that a key must hold to be more than a guess (our choice). */
const HOLDS = 2 / 3;
/** Fifths by which the middle of a guess's names is moved, nearest first. */
const SHIFTS = [1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6];

/** Whether a spelling is one of the key's own: its letter carries no sign beyond the scale's. */
export const isOwn = (k: Key, spelled: Spelled): boolean => toScaleAs(fullScale(k), spelled).alter === 0;

const widthOf = (fifths: readonly number[]): number =>
  fifths.length === 0 ? 0 : Math.max(...fifths) - Math.min(...fifths);

/** The place nearest to a middle with this pitch class and no double sign. */
const near = (pitchClass: number, middle: number): number => {
  const lowest = modulo(pitchClass * 7, 12);
  return [lowest - 12, lowest, lowest + 12]
    .filter(f => f >= FLATTEST && f <= SHARPEST)
    .reduce((best, f) => (Math.abs(f - middle) < Math.abs(best - middle) ? f : best));
};

/** One way to name the pitches of a line. */
export interface LineNames {
  /** The name of a pitch of the line, or any other. */
  readonly nameOf: (pitch: MidiPitch) => Spelled;
  /** Whether the name of a neighbour or passing note may stand beside them. */
  readonly allows: (name: Spelled) => boolean;
}

/**
 * Ways to name the pitches of a line in a key, the key's own (`spell`) first: then what is outside the scale is counted
 * from a fifth higher or lower. A key that holds neither two in three of the line's pitch classes or notes nor is struck whole is only a guess: there all names are the
 * closest there are on the line of fifths, its own notes' too, and there is one way.
 * @param pitches MIDI pitches of the whole line
 * @example
 * const line = [66, 68, 70, 72, 73];
 * line.map(namingsOf(key('C'), line)[0].nameOf).map(pitchName) // => ['G♭4', 'A♭4', 'B♭4', 'C5', 'D♭5']
 * namingsOf(key('C'), line)[0].allows({ letter: 'A', alter: 1, octave: 4 }) // => false
 * namingsOf(key('C'), [60, 64, 66]).map(naming => pitchName(naming.nameOf(66))) // => ['F♯4', 'F♯4', 'G♭4']
 */
export const namingsOf = (k: Key, pitches: readonly MidiPitch[]): readonly [LineNames, ...LineNames[]] => {
  const classes = [...new Set(pitches.map(pitch => modulo(pitch, 12)))].sort((a, b) => a - b);
  const names = classes.map(c => spell(k, 60 + c));
  const held = names.filter(name => isOwn(k, name)).length;
  // A chromatic tune is in its key as long as most of its notes are.
  const heldNotes = pitches.filter(pitch => isOwn(k, spell(k, pitch))).length;
  const fits = held === LETTERS.length || HOLDS * names.length <= held || HOLDS * pitches.length <= heldNotes;
  // From five flatter to six sharper than the tonic the middle lies half a place over it.
  const middle = fifthsOf(k.tonic) + 0.5;
  const placedBy = (by: number): readonly number[] =>
    names.map((name, i) => (fits && isOwn(k, name) ? fifthsOf(name) : near(classes[i] ?? 0, middle + by)));
  const naming = (places: readonly number[]): LineNames => {
    const place = new Map(classes.map((c, i) => [c, places[i]]));
    return {
      nameOf: pitch => {
        const fifths = place.get(modulo(pitch, 12));
        return fifths === undefined ? spell(k, pitch) : spellAtFifths(pitch, fifths);
      },
      allows: name => fits || widthOf([...places, fifthsOf(name)]) <= WIDEST,
    };
  };
  const own = names.map(fifthsOf);
  if (fits) return [naming(own), naming(placedBy(1)), naming(placedBy(-1))];
  const closest = SHIFTS.map(placedBy).reduce((so, way) => (widthOf(way) < widthOf(so) ? way : so), own);
  return [naming(closest)];
};

/**
 * Whether the names of a line lie close enough together.
 * @example
 * areClose([{ letter: 'A', alter: -1, octave: 4 }, { letter: 'F', alter: 1, octave: 4 }]) // => true
 * areClose([{ letter: 'D', alter: -1, octave: 4 }, { letter: 'F', alter: 1, octave: 4 }]) // => false
 */
export const areClose = (names: readonly Spelled[]): boolean => widthOf(names.map(fifthsOf)) <= WIDEST;
