import {
  fullScale,
  isWritable,
  type Key,
  key,
  type Mode,
  plainest,
  scaleMidi,
  scaleSize,
  signature,
} from '../foundation/key.ts';
import { type Letter, modulo } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';
import { modalEarns } from './modalEarns.ts';

export interface KeySuggestion {
  readonly key: Key;
  /** The chance that it is the key, 0 to 1. */
  readonly sure: number;
}

/** What is known besides the notes. */
export interface KeyEvidence {
  /** Pitches whose bars are set out, absent where all are; bars lifted off are a choice, and count. */
  readonly setOut?: readonly MidiPitch[];
  /** The key the class works in, taken where the notes fit it. */
  readonly classKey?: Key;
}

/**
 * How well each semitone above the tonic fits a key, as listeners judged (Krumhansl and Kessler 1982;
 * Krumhansl 1990, Cognitive Foundations of Musical Pitch).
 */
const PROFILES = {
  major: [6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88],
  minor: [6.33, 2.68, 3.52, 5.38, 2.6, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17],
} as const;

/** Modes that are sought, with the published profile they vary and what they cost against it (fitted). */
const SOUGHT: readonly (readonly [Mode, keyof typeof PROFILES, number])[] = [
  ['major', 'major', 0],
  ['minor', 'minor', 0.14],
  ['dorian', 'minor', 0.01],
  ['mixolydian', 'major', 0.17],
  ['phrygian', 'minor', 0.31],
  ['lydian', 'major', 0.3],
];
/**
 * Only the sixth tells minor from dorian. Where neither sixth is struck minor is as cheap as dorian was fitted,
 * and dorian dearer by 1.5 nats (our choice): no sharp in the signature that nobody played.
 */
const OPEN_SIXTH = { either: [8, 9], minor: 0.01, dorian: 0.09 };
const TONICS: readonly (readonly [Letter, number])[] = [
  ['C', 0],
  ['D', -1],
  ['D', 0],
  ['E', -1],
  ['E', 0],
  ['F', 0],
  ['F', 1],
  ['G', 0],
  ['A', -1],
  ['A', 0],
  ['B', -1],
  ['B', 0],
];

/**
 * What is earned where the tonic, or the fifth or third over it, stands first, last or lowest; what all time
 * spent outside the scale loses. In points of correlation. Fitted with the costs above by the likelihood of
 * the right key of 36 public-domain tunes (test/motif/tunes.ts), drawn to modest values: 32 of 36 right, by
 * halves too, where the profile alone gets 27. A tonic struck first was then given 0.12 for the fitted 0.04, so
 * that an idea on C with its fifth is not taken for G; 30 of 36 are right so.
 */
const LAST = { tonic: 0.04, triad: 0.04 };
const FIRST = { tonic: 0.12, triad: 0.2 };
const LOWEST = { tonic: 0.03, fifth: 0.06 };
const OUTSIDE = 1;
/** Our choice: a class's key outweighs what is nearly as likely, bars lifted off what would need them. */
const CLASS_KEY = 0.2;
const AMISS = 0.12;
/**
 * What the lowest note earns as the tonic where the tune is the first five notes of a major or minor scale and nothing
 * else: such tunes lie over their tonic (common practice, no source; our choice).
 */
const FIVE_FINGERS = 0.1;
const FIVES: readonly (readonly number[])[] = [
  [0, 2, 4, 5, 7],
  [0, 2, 3, 5, 7],
];
/** How much likelier a key is for each point, in nats, told from many notes (fitted); less from few: half from three. */
const SHARPNESS = 19;
const FEW = 3;
/** Below this chance a suggestion is a guess; no signature is written that is not surer. */
export const PERHAPS = 0.5;
/** From this chance on that its signature is right a key is written although another may be as likely (our choice). */
const SIGNS = 0.6;

const classOf = (pitch: MidiPitch): number => modulo(pitch, 12);
const tonicOf = (k: Key): number => classOf(scaleMidi(k, { degree: 0, alter: 0 }));
const classesOf = (k: Key): ReadonlySet<number> =>
  new Set(Array.from({ length: scaleSize(k) }, (_, degree) => classOf(scaleMidi(k, { degree, alter: 0 }))));

/** A mode's profile: the published one, with what the mode raises or lowers changed over. */
const profileOf = (mode: Mode, base: keyof typeof PROFILES): readonly number[] => {
  const profile: number[] = [...PROFILES[base]];
  const own = classesOf(key('C', mode));
  const plain = classesOf(key('C', base));
  const gained = [...own].filter(c => !plain.has(c));
  const lost = [...plain].filter(c => !own.has(c));
  gained.forEach((c, i) => {
    const instead = lost[i] ?? c;
    [profile[c], profile[instead]] = [profile[instead] ?? 0, profile[c] ?? 0];
  });
  return profile;
};

/** Pearson's correlation; 0 where one side does not vary. */
const correlation = (a: readonly number[], b: readonly number[]): number => {
  const middle = (all: readonly number[]): number => all.reduce((so, x) => so + x, 0) / all.length;
  const [ma, mb] = [middle(a), middle(b)];
  let [ab, aa, bb] = [0, 0, 0];
  for (const [i, x] of a.entries()) {
    const y = (b[i] ?? 0) - mb;
    ab += (x - ma) * y;
    aa += (x - ma) ** 2;
    bb += y ** 2;
  }
  return aa === 0 || bb === 0 ? 0 : ab / Math.sqrt(aa * bb);
};

/** What a note earns by standing where tonics stand. */
const stands = (
  pitch: MidiPitch,
  k: Key,
  earns: { readonly tonic: number; readonly triad: number },
): number => {
  const above = modulo(pitch - tonicOf(k), 12);
  if (above === 0) return earns.tonic;
  const third = ['minor', 'dorian', 'phrygian'].includes(k.mode) ? 3 : 4;
  return above === 7 || above === third ? earns.triad : 0;
};

/** The pentatonic key where none of the notes needs more than its five. */
const narrowed = (k: Key, struck: ReadonlySet<number>): Key => {
  const mode = k.mode === 'major' ? 'major pentatonic' : k.mode === 'minor' ? 'minor pentatonic' : undefined;
  if (mode === undefined || struck.size < 4) return k;
  const five = classesOf({ ...k, mode });
  return [...struck].every(c => five.has(c)) ? { ...k, mode } : k;
};

/** The mode that is sought for a key a class may work in. */
const soughtAs = (k: Key): Mode => {
  const { mode } = fullScale(k);
  return mode === 'harmonic minor' || mode === 'melodic minor' ? 'minor' : mode;
};

/** Whether a set of five bars is the pentatonic scale of a key: lift F and B for C (common practice, no source). */
const isItsFive = (k: Key, out: ReadonlySet<number>): boolean => {
  const mode = k.mode === 'major' ? 'major pentatonic' : k.mode === 'minor' ? 'minor pentatonic' : undefined;
  if (mode === undefined || out.size !== 5) return false;
  return [...classesOf({ ...k, mode })].every(c => out.has(c));
};

/** Whether these are the first five notes of a scale. @param above semitones over the lowest note */
const isFiveFingers = (above: readonly number[]): boolean => {
  const different = [...new Set(above)].sort((a, b) => a - b);
  return FIVES.some(five => five.length === different.length && five.every((c, i) => c === different[i]));
};

/** What a mode costs over this tonic, where these pitch classes are struck. */
const costOf = (mode: Mode, fitted: number, tonic: number, struck: ReadonlySet<number>): number =>
  (mode !== 'minor' && mode !== 'dorian') || OPEN_SIXTH.either.some(c => struck.has(modulo(tonic + c, 12)))
    ? fitted
    : OPEN_SIXTH[mode];

/** Every key that is sought, likeliest first. */
const ranked = (
  notes: readonly { readonly pitch: number; readonly weight: number }[],
  evidence: KeyEvidence = {},
): readonly KeySuggestion[] => {
  const total = notes.reduce((so, note) => so + note.weight, 0);
  const [first] = notes;
  const last = notes.at(-1);
  if (total <= 0 || first === undefined || last === undefined) return [{ key: key('C'), sure: 0 }];
  const time = Array.from({ length: 12 }, () => 0);
  for (const { pitch, weight } of notes) time[classOf(pitch)] = (time[classOf(pitch)] ?? 0) + weight / total;
  const lowest = Math.min(...notes.map(note => note.pitch));
  const struck = new Set(notes.map(note => classOf(note.pitch)));
  const isFive = isFiveFingers(notes.map(note => note.pitch - lowest));
  const out = new Set((evidence.setOut ?? []).map(classOf));
  const pitches = notes.map(note => note.pitch);
  const scored = SOUGHT.flatMap(([mode, base, cost]) => {
    const profile = profileOf(mode, base);
    return TONICS.map(([letter, alter]) => {
      const k = plainest(key(letter, mode, alter));
      const tonic = tonicOf(k);
      const scale = classesOf(k);
      const outside = time.reduce((so, share, c) => so + (scale.has(c) ? 0 : share), 0);
      // A bar lifted off that the scale would need speaks against it, one set out of it likewise.
      const amiss =
        [...out].filter(c => !scale.has(c)).length +
        (out.size > 0 && !out.has(tonic) ? 1 : 0) -
        (isItsFive(k, out) ? 1 : 0);
      const { classKey } = evidence;
      const isClass = classKey !== undefined && tonicOf(classKey) === tonic && soughtAs(classKey) === mode;
      const score =
        correlation(
          time,
          profile.map((_, c) => profile[modulo(c - tonic, 12)] ?? 0),
        ) +
        stands(last.pitch, k, LAST) +
        stands(first.pitch, k, FIRST) +
        (classOf(lowest) === tonic ? LOWEST.tonic : classOf(lowest - 7) === tonic ? LOWEST.fifth : 0) +
        (isFive && classOf(lowest) === tonic ? FIVE_FINGERS : 0) +
        (isClass ? CLASS_KEY : 0) -
        OUTSIDE * outside -
        AMISS * amiss -
        costOf(mode, cost, tonic, struck) +
        modalEarns(mode, pitches, tonic);
      // The class writes its key its own way, where it has room for the notes.
      const ownWay = isClass && isWritable(classKey) && [...struck].every(c => classesOf(classKey).has(c));
      return { key: ownWay ? classKey : narrowed(k, struck), score };
    });
  }).sort((a, b) => b.score - a.score || Math.abs(signature(a.key)) - Math.abs(signature(b.key)));
  const best = scored[0]?.score ?? 0;
  const sharpness = (SHARPNESS * notes.length) / (notes.length + FEW);
  const chances = scored.map(({ score }) => Math.exp(sharpness * (score - best)));
  const all = chances.reduce((so, chance) => so + chance, 0);
  return scored.map(({ key: k }, i) => ({ key: k, sure: (chances[i] ?? 0) / all }));
};

/**
 * Keys for struck pitches, likeliest first, at most five; C major with no certainty where there is none. A key is judged by the
 * correlation of the time given to each pitch class with the published profile (Krumhansl 1990, ch. 4), and
 * by what stands first, last, lowest, and outside its scale.
 * @param notes MIDI pitches in order of time, each with its length in any unit
 * @example
 * const scale = [60, 62, 64, 65, 67, 69, 71, 72].map(pitch => ({ pitch, weight: 1 }));
 * keyName(suggestKeys(scale)[0].key) // => 'C major'
 * suggestKeys([])[0].sure // => 0
 */
export const suggestKeys = (
  notes: readonly { readonly pitch: number; readonly weight: number }[],
  evidence: KeyEvidence = {},
): readonly KeySuggestion[] => ranked(notes, evidence).slice(0, 5);

/** The likeliest signature: keys that share one (a mode of another tonic) speak for it together. */
const likeliestSigns = (
  all: readonly KeySuggestion[],
): { readonly key: KeySuggestion; readonly sure: number } | undefined =>
  all
    .map(one => ({
      key: one,
      // Six sharps and six flats are the same signs in two spellings.
      sure: all
        .filter(other => modulo(signature(other.key) - signature(one.key), 12) === 0)
        .reduce((so, other) => so + other.sure, 0),
    }))
    .reduce<{ key: KeySuggestion; sure: number } | undefined>(
      (best, one) => (best === undefined || one.sure > best.sure + 1e-9 ? one : best),
      undefined,
    );

/**
 * The key to write: the likeliest of the likeliest signature, or, where even that is a guess, the likeliest without one;
 * one with a signature only where that holds all the notes and none without does.
 * @example
 * signature(keyToWrite([60, 64, 68].map(pitch => ({ pitch, weight: 1 }))).key) // => 0
 */
export const keyToWrite = (
  notes: readonly { readonly pitch: number; readonly weight: number }[],
  evidence: KeyEvidence = {},
): KeySuggestion => {
  const all = ranked(notes, evidence);
  const [best] = all;
  if (best === undefined || best.sure >= PERHAPS) return best ?? { key: key('C'), sure: 0 };
  const signs = likeliestSigns(all);
  if (signs !== undefined && signs.sure >= SIGNS) return signs.key;
  const struck = new Set(notes.map(note => classOf(note.pitch)));
  const holds = ({ key: k }: KeySuggestion): boolean => {
    const scale = classesOf(fullScale(k));
    return [...struck].every(c => scale.has(c));
  };
  const plain = all.find(s => signature(s.key) === 0) ?? best;
  // A guess, too, is of a key that the notes lie in, where there is one.
  return holds(plain) ? plain : (all.find(holds) ?? plain);
};
