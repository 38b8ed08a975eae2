import { add, compare, fraction, type Fraction, ZERO } from './fraction.ts';

/**
 * A metre by its time signature, with the grouping of its pulses where the signature alone does
 * not say it (5/4 as 3+2, 7/8 as 2+2+3).
 */
export interface Metre {
  /** Upper figure, 1 to 24. */
  readonly upper: number;
  /** Lower figure: 1, 2, 4, 8 or 16. */
  readonly lower: number;
  /** Pulses (of 1/unit) in each beat of an irregular metre; they add up to `beats`. */
  readonly groups?: readonly number[];
}

const IRREGULAR: Readonly<Record<string, readonly number[]>> = {
  '5/8': [3, 2],
  '7/8': [2, 2, 3],
  '8/8': [3, 3, 2],
  '10/8': [3, 3, 2, 2],
};

/** The other groupings a piece may have in fives and sevens, the usual one left out. */
const OTHERWISE: Readonly<Record<string, readonly (readonly number[])[]>> = {
  '5/8': [[2, 3]],
  '7/8': [
    [3, 2, 2],
    [2, 3, 2],
  ],
};

/**
 * A metre, with the usual grouping filled in.
 * @example
 * metre(7, 8).groups // => [2, 2, 3]
 * metre(6, 8) // => { upper: 6, lower: 8 }
 */
export const metre = (beats: number, unit: number): Metre => {
  const groups = IRREGULAR[`${String(beats)}/${String(unit)}`];
  return groups === undefined ? { upper: beats, lower: unit } : { upper: beats, lower: unit, groups };
};

/**
 * Compound: the beat divides in three (6/8, 9/8, 12/8, and 6/4, 6/16 likewise).
 * @example
 * isCompound(metre(6, 8)) // => true
 * isCompound(metre(3, 4)) // => false
 */
export const isCompound = (m: Metre): boolean =>
  m.groups === undefined && m.lower >= 8 && m.upper % 3 === 0 && m.upper > 3;

/**
 * Length of a bar, in semibreves.
 * @example
 * barLength(metre(6, 8)) // => fraction(3, 4)
 */
export const barLength = (m: Metre): Fraction => fraction(m.upper, m.lower);

/**
 * The lengths of the beats of one bar, in semibreves. A compound beat is dotted; an irregular
 * metre has beats of unequal length.
 * @example
 * beatLengths(metre(6, 8)) // => [fraction(3, 8), fraction(3, 8)]
 */
export const beatLengths = (m: Metre): readonly Fraction[] => beatsOf(m).lengths;

const lengthsIn = (m: Metre): readonly Fraction[] => {
  if (m.groups !== undefined) return m.groups.map(pulses => fraction(pulses, m.lower));
  if (isCompound(m)) return Array.from({ length: m.upper / 3 }, () => fraction(3, m.lower));
  if (m.upper === 3 && m.lower >= 8) return [fraction(3, m.lower)];
  return Array.from({ length: m.upper }, () => fraction(1, m.lower));
};

/**
 * Where the beats of a bar start, from its barline; the first is 0.
 * @example
 * beatStarts(metre(8, 8)) // => [fraction(0), fraction(3, 8), fraction(3, 4)]
 * beatStarts({ ...metre(7, 8), groups: [3, 2, 2] }) // => [fraction(0), fraction(3, 8), fraction(5, 8)]
 */
export const beatStarts = (m: Metre): readonly Fraction[] => beatsOf(m).starts;

interface Beats {
  readonly lengths: readonly Fraction[];
  readonly starts: readonly Fraction[];
}

/** Asked for at every note of a page, and the same for a metre whoever asks. */
const known = new WeakMap<Metre, Beats>();

const beatsOf = (m: Metre): Beats => {
  const before = known.get(m);
  if (before !== undefined) return before;
  const lengths = lengthsIn(m);
  let at: Fraction = ZERO;
  const starts = lengths.map(length => {
    const start = at;
    at = add(at, length);
    return start;
  });
  const beats = { lengths, starts };
  known.set(m, beats);
  return beats;
};

/**
 * The note value of the beat a musician counts (the tactus) for metronome marks: crotchet in 4/4,
 * minim in 2/2, dotted crotchet in 6/8; in irregular metres the pulse.
 * @example
 * tactus(metre(2, 2)) // => fraction(1, 2)
 * tactus(metre(5, 8)) // => fraction(1, 8)
 */
export const tactus = (m: Metre): Fraction => {
  const lengths = beatLengths(m);
  const [first] = lengths;
  if (first === undefined) return fraction(1, 4);
  return lengths.every(length => compare(length, first) === 0) ? first : fraction(1, m.lower);
};

/**
 * As written: "6/8".
 * @example
 * showMetre(metre(6, 8)) // => '6/8'
 */
export const showMetre = (m: Metre): string => `${String(m.upper)}/${String(m.lower)}`;

/**
 * A metre in every grouping it may have, the usual one first; only 5/8 and 7/8 have several.
 * @example
 * groupingsOf(metre(5, 8)).map(m => m.groups) // => [[3, 2], [2, 3]]
 * groupingsOf(metre(4, 4)) // => [metre(4, 4)]
 */
export const groupingsOf = (m: Metre): readonly Metre[] => {
  const usual = metre(m.upper, m.lower);
  const others = OTHERWISE[showMetre(m)] ?? [];
  return [usual, ...others.map(groups => ({ ...usual, groups }))];
};

/**
 * As it is told in words: with its grouping, where there are several.
 * @example
 * metreInWords(metre(7, 8)) // => '7/8 as 2+2+3'
 * metreInWords(metre(6, 8)) // => '6/8'
 */
export const metreInWords = (m: Metre): string =>
  m.groups === undefined || groupingsOf(m).length === 1
    ? showMetre(m)
    : `${showMetre(m)} as ${m.groups.join('+')}`;

/**
 * Reads "6/8"; undefined where it is no metre we can write (1 to 24 over 1, 2, 4, 8 or 16).
 * @example
 * parseMetre('6/8') // => metre(6, 8)
 * parseMetre('6/7') // => undefined
 */
export const parseMetre = (text: string): Metre | undefined => {
  const found = /^(\d{1,2})\/(\d{1,2})$/.exec(text.trim());
  const beats = Number(found?.[1]);
  const unit = Number(found?.[2]);
  return beats >= 1 && beats <= 24 && [1, 2, 4, 8, 16].includes(unit) ? metre(beats, unit) : undefined;
};

/**
 * Whether two metres have the same figures and the same grouping.
 * @example
 * sameMetre(metre(3, 4), metre(6, 8)) // => false
 */
export const sameMetre = (a: Metre, b: Metre): boolean =>
  a.upper === b.upper && a.lower === b.lower && String(a.groups) === String(b.groups);

/** Time signatures offered in menus, the usual ones first. */
export const OFFERED_METRES: readonly string[] = [
  '4/4',
  '3/4',
  '2/4',
  '2/2',
  '6/8',
  '9/8',
  '12/8',
  '5/4',
  '5/8',
  '7/8',
];

/** The metres that are offered, each grouping for itself. */
export const METRES_TO_CHOOSE: readonly Metre[] = OFFERED_METRES.flatMap(name => {
  const m = parseMetre(name);
  return m === undefined ? [] : groupingsOf(m);
});
