import {
  fifthsOf,
  letterName,
  midiOf,
  modulo,
  spellAtFifths,
  staffPosition,
  type Spelled,
  type Letter,
  LETTERS,
} from './pitch.ts';
import type { MidiPitch } from './units.ts';

export type Mode =
  | 'major'
  | 'minor'
  | 'harmonic minor'
  | 'melodic minor'
  | 'dorian'
  | 'phrygian'
  | 'lydian'
  | 'mixolydian'
  | 'major pentatonic'
  | 'minor pentatonic';

export interface Key {
  readonly tonic: Pick<Spelled, 'letter' | 'alter'>;
  readonly mode: Mode;
}

interface ModeShape {
  /** Semitones above the tonic of each degree. */
  readonly semitones: readonly number[];
  /** Letters above the tonic of each degree. */
  readonly letters: readonly number[];
  /** What is added to the tonic's place on the line of fifths to get the key signature. */
  readonly signature: number;
}

const seven = [0, 1, 2, 3, 4, 5, 6];
const MODES: Readonly<Record<Mode, ModeShape>> = {
  major: { semitones: [0, 2, 4, 5, 7, 9, 11], letters: seven, signature: 0 },
  minor: { semitones: [0, 2, 3, 5, 7, 8, 10], letters: seven, signature: -3 },
  'harmonic minor': { semitones: [0, 2, 3, 5, 7, 8, 11], letters: seven, signature: -3 },
  'melodic minor': { semitones: [0, 2, 3, 5, 7, 9, 11], letters: seven, signature: -3 },
  dorian: { semitones: [0, 2, 3, 5, 7, 9, 10], letters: seven, signature: -2 },
  phrygian: { semitones: [0, 1, 3, 5, 7, 8, 10], letters: seven, signature: -4 },
  lydian: { semitones: [0, 2, 4, 6, 7, 9, 11], letters: seven, signature: 1 },
  mixolydian: { semitones: [0, 2, 4, 5, 7, 9, 10], letters: seven, signature: -1 },
  'major pentatonic': { semitones: [0, 2, 4, 7, 9], letters: [0, 1, 2, 4, 5], signature: 0 },
  'minor pentatonic': { semitones: [0, 3, 5, 7, 10], letters: [0, 2, 3, 4, 6], signature: -3 },
};
export const MODE_NAMES = Object.keys(MODES) as readonly Mode[];

/**
 * A key by the letter of its tonic, its mode (major), and the tonic's alteration in semitones (0).
 * @example
 * keyName(key('B', 'minor', -1)) // => 'B♭ minor'
 */
export const key = (letter: Letter, mode: Mode = 'major', alter = 0): Key => ({
  tonic: { letter, alter },
  mode,
});

/**
 * As a teacher says it.
 * @example
 * keyName(key('C', 'major pentatonic')) // => 'C pentatonic'
 */
export const keyName = (k: Key): string =>
  `${letterName(k.tonic)} ${k.mode === 'major pentatonic' ? 'pentatonic' : k.mode}`;

/**
 * Sharps (above zero) or flats (below zero) of the key signature.
 * @example
 * signature(key('E', 'dorian')) // => 2
 * signature(key('B', 'major', -1)) // => -2
 */
export const signature = (k: Key): number => fifthsOf(k.tonic) + MODES[k.mode].signature;

/** A key signature has at most seven signs: one for each letter. */
export const MOST_SIGNS = 7;

/**
 * Whether a page can hold the key: its signature has no more than seven signs.
 * @example
 * isWritable(key('C', 'minor', 1)) // => true
 * isWritable(key('D', 'minor', -1)) // => false
 */
export const isWritable = (k: Key): boolean => Math.abs(signature(k)) <= MOST_SIGNS;

const TONICS: readonly Key['tonic'][] = LETTERS.flatMap(letter =>
  [-1, 0, 1].map(alter => ({ letter, alter })),
);

/**
 * The tonics a page can write a mode on, from C up; those that sound alike (D♭, C♯) both where both can.
 * @example
 * writableTonics('minor').length // => 15
 * writableTonics('major').some(t => letterName(t) === 'D♯') // => false
 */
export const writableTonics = (mode: Mode): readonly Key['tonic'][] =>
  TONICS.filter(tonic => isWritable({ tonic, mode }));

/**
 * The same key in the spelling with the fewest signs; as it was where none has fewer.
 * @example
 * keyName(plainest(key('D', 'minor', -1))) // => 'C♯ minor'
 * keyName(plainest(key('C', 'major', 1))) // => 'D♭ major'
 * keyName(plainest(key('F', 'major', 1))) // => 'F♯ major'
 */
export const plainest = (k: Key): Key =>
  TONICS.map(tonic => ({ ...k, tonic }))
    .filter(other => tonicPitch(other) === tonicPitch(k))
    .reduce((best, other) => (Math.abs(signature(other)) < Math.abs(signature(best)) ? other : best), k);

/**
 * A key that a page can hold and that sounds the same: the key itself, or its plainest spelling.
 * @example
 * keyName(writable(key('C', 'major', -1))) // => 'C♭ major'
 * keyName(writable(key('G', 'lydian', 1))) // => 'A♭ lydian'
 */
export const writable = (k: Key): Key => (isWritable(k) ? k : plainest(k));

/**
 * How many notes the scale has in an octave: 7 or 5.
 * @example
 * scaleSize(key('C', 'major pentatonic')) // => 5
 */
export const scaleSize = (k: Key): number => MODES[k.mode].semitones.length;

/**
 * A pitch told by the scale: `degree` counts steps of the scale from the tonic in octave 0 (the
 * tonic of octave 4 is 4 × scale size), `alter` is semitones away from that scale note. This is
 * what treatments work on, because "up two steps" and "upside down" are about the scale.
 */
export interface ScalePitch {
  readonly degree: number;
  readonly alter: number;
}

const tonicPitch = (k: Key): number => modulo(fifthsOf(k.tonic) * 7, 12);
/** The tonic of "octave 0" as a MIDI number, so that degree 0 sits there. */
const origin = (k: Key): number => {
  const pc = tonicPitch(k);
  return pc + 12;
};

/**
 * The MIDI pitch of a scale pitch; may fall outside 0 to 127, which callers check as range.
 * @example
 * scaleMidi(key('C'), { degree: 28, alter: 0 }) // => 60
 * scaleMidi(key('C'), { degree: 30, alter: -1 }) // => 63
 */
export const scaleMidi = (k: Key, p: ScalePitch): MidiPitch => {
  const { semitones } = MODES[k.mode];
  const size = semitones.length;
  const octave = Math.floor(p.degree / size);
  return origin(k) + 12 * octave + (semitones[modulo(p.degree, size)] ?? 0) + p.alter;
};

/** From so many signs on what is raised or lowered once often has a sign already: the leading note of G♯ minor is F𝄪. */
const MANY_SIGNS = 5;

/** By how many signs a name goes beyond the signature, in which the raised degrees of a minor key are not. */
const beyondSignature = (k: Key, spelled: Spelled): number =>
  toScaleAs(/ minor$/.test(k.mode) ? { ...k, mode: 'minor' } : fullScale(k), spelled).alter;

/** Whether a name has one sign at most, or one more than the key gives its letter where it gives many. */
const isPlainIn = (k: Key, spelled: Spelled): boolean =>
  Math.abs(spelled.alter) <= 1 ||
  (Math.abs(signature(k)) >= MANY_SIGNS && Math.abs(beyondSignature(k, spelled)) <= 1);

/**
 * Whether a note that leads on, or was altered with its letter, may have a name: with one sign at most, or raised once where
 * the key has its letter sharp already (F𝄪 to G♯ in A major). Two flats only where the key has many (common practice, no
 * source).
 * @example
 * isWorthSign(key('A'), { letter: 'F', alter: 2, octave: 4 }) // => true
 * isWorthSign(key('C'), { letter: 'F', alter: 2, octave: 4 }) // => false
 * isWorthSign(key('A', 'major', -1), { letter: 'B', alter: -2, octave: 4 }) // => false
 */
export const isWorthSign = (k: Key, spelled: Spelled): boolean =>
  isPlainIn(k, spelled) || (spelled.alter === 2 && beyondSignature(k, spelled) === 1);

/**
 * The spelling a key gives a MIDI pitch: its own where the scale has it, else the name nearest to the tonic on
 * the line of fifths (from −5 to +6) that needs no double sign, but where the signature has most of its signs.
 * @example
 * pitchName(spell(key('G', 'minor', 1), 67)) // => 'F𝄪4'
 * pitchName(spell(key('D'), 66)) // => 'F♯4'
 */
export const spell = (k: Key, pitch: MidiPitch): Spelled => {
  const scale = scaleFifths(fullScale(k)).find(f => modulo(f * 7, 12) === modulo(pitch, 12));
  if (scale !== undefined) return spellAtFifths(pitch, scale);
  const tonic = fifthsOf(k.tonic);
  for (let f = tonic - 5; f <= tonic + 6; f++) {
    if (modulo(f * 7, 12) !== modulo(pitch, 12)) continue;
    const near = spellAtFifths(pitch, f);
    return isPlainIn(k, near) ? near : spellAtFifths(pitch, f - 12 * Math.sign(near.alter));
  }
  return spellAtFifths(pitch, 0);
};

/**
 * The scale of seven notes a pentatonic one is part of; any other scale itself. Its letters are meant.
 * @example
 * fullScale(key('D', 'minor pentatonic')) // => key('D', 'minor')
 */
export const fullScale = (k: Key): Key => {
  if (k.mode === 'major pentatonic') return { ...k, mode: 'major' };
  return k.mode === 'minor pentatonic' ? { ...k, mode: 'minor' } : k;
};

/** Places of the scale's notes on the line of fifths. */
const scaleFifths = (k: Key): number[] => {
  const { semitones, letters } = MODES[k.mode];
  const tonicIndex = LETTERS.indexOf(k.tonic.letter);
  return semitones.map((semitone, i) => {
    const step = LETTERS[modulo(tonicIndex + (letters[i] ?? 0), 7)] ?? 'C';
    const natural = modulo(fifthsOf({ letter: step, alter: 0 }) * 7, 12);
    const wanted = modulo(tonicPitch(k) + semitone, 12);
    const alter = modulo(wanted - natural + 6, 12) - 6;
    return fifthsOf({ letter: step, alter });
  });
};

/**
 * Reads a MIDI pitch into the scale. A note outside the scale is told as an alteration of the
 * scale note whose letter it shares; where the scale has no such letter (pentatonic), of the
 * nearest scale note below.
 * @example
 * toScale(key('C'), 64) // => { degree: 30, alter: 0 }
 */
export const toScale = (k: Key, pitch: MidiPitch): ScalePitch => {
  const { semitones, letters } = MODES[k.mode];
  const size = semitones.length;
  const above = pitch - origin(k);
  const octave = Math.floor(above / 12);
  const within = modulo(above, 12);
  const exact = semitones.indexOf(within);
  if (exact >= 0) return { degree: octave * size + exact, alter: 0 };
  const letter = modulo(LETTERS.indexOf(spell(k, pitch).letter) - LETTERS.indexOf(k.tonic.letter), 7);
  const sharing = letters.indexOf(letter);
  const index = sharing >= 0 ? sharing : semitones.filter(s => s < within).length - 1;
  const alter = modulo(within - (semitones[index] ?? 0) + 6, 12) - 6;
  // A lowered tonic of the next octave (C♭ above B) belongs to that octave.
  const wrap = within - alter - (semitones[index] ?? 0) > 6 ? 1 : 0;
  return { degree: (octave + wrap) * size + index, alter };
};

/**
 * Reads a spelled pitch into the scale, by its letter where the scale has seven.
 * @example
 * toScaleAs(key('C'), { letter: 'D', alter: 1, octave: 4 }) // => { degree: 29, alter: 1 }
 * toScaleAs(key('C'), { letter: 'E', alter: -1, octave: 4 }) // => { degree: 30, alter: -1 }
 */
export const toScaleAs = (k: Key, spelled: Spelled): ScalePitch => {
  const pitch = midiOf(spelled);
  if (scaleSize(k) !== LETTERS.length) return toScale(k, pitch);
  const tonic = spellAtFifths(origin(k), fifthsOf(k.tonic));
  const degree = staffPosition(spelled) - staffPosition(tonic);
  return { degree, alter: pitch - scaleMidi(k, { degree, alter: 0 }) };
};

/**
 * A MIDI pitch told by a wanted degree, so that intervals keep their names; where the scale has not every
 * letter, or the degree lies over a tone off, as `toScale` has it.
 * @example
 * inLetters(key('C'), 32, 68) // => { degree: 32, alter: 1 }
 */
export const inLetters = (k: Key, degree: number, pitch: MidiPitch): ScalePitch => {
  const alter = pitch - scaleMidi(k, { degree, alter: 0 });
  return scaleSize(k) === LETTERS.length && Math.abs(alter) <= 2 ? { degree, alter } : toScale(k, pitch);
};

/**
 * The spelling of a scale pitch: the degree's own letter, altered; respelled when that needs more signs than a page in
 * the key does, and in a scale that has not every letter.
 * @example
 * pitchName(spellScale(key('C'), { degree: 28, alter: 1 })) // => 'C♯4'
 * pitchName(spellScale(key('C', 'major pentatonic'), { degree: 22, alter: 1 })) // => 'F4'
 */
export const spellScale = (k: Key, p: ScalePitch): Spelled => {
  const midi = scaleMidi(k, p);
  const base = spell(k, midi - p.alter);
  if (p.alter === 0) return base;
  if (scaleSize(k) !== LETTERS.length) return spell(k, midi);
  const own = { ...base, alter: base.alter + p.alter };
  return isWorthSign(k, own) ? own : spell(k, midi);
};

/**
 * Whether the scale holds a MIDI pitch.
 * @example
 * inScale(key('C', 'major pentatonic'), 65) // => false
 */
export const inScale = (k: Key, pitch: MidiPitch): boolean => toScale(k, pitch).alter === 0;
