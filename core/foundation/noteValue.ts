import { equal, fraction, type Fraction } from './fraction.ts';

/** A note value as it is drawn: 1 is a semibreve, 4 a crotchet, 64 the shortest we write. */
export interface NoteValue {
  readonly base: 1 | 2 | 4 | 8 | 16 | 32 | 64;
  readonly dots: 0 | 1 | 2;
}

const BASES = [1, 2, 4, 8, 16, 32, 64] as const;

/**
 * Length of a note value, in semibreves.
 * @example
 * valueLength({ base: 4, dots: 1 }) // => fraction(3, 8)
 */
export const valueLength = (v: NoteValue): Fraction =>
  fraction([1, 3, 7][v.dots] ?? 1, v.base * ([1, 2, 4][v.dots] ?? 1));

/**
 * The plain or dotted value of exactly this length; undefined where it needs a tie or a tuplet.
 * @example
 * valueOf(fraction(3, 8)) // => { base: 4, dots: 1 }
 * valueOf(fraction(5, 8)) // => undefined
 */
export const valueOf = (length: Fraction): NoteValue | undefined => {
  for (const base of BASES) {
    for (const dots of [0, 1] as const) {
      const value: NoteValue = { base, dots };
      if (equal(valueLength(value), length)) return value;
    }
  }
  return undefined;
};

export type NameStyle = 'british' | 'american';
const NAMES: Readonly<Record<NameStyle, Readonly<Record<NoteValue['base'], string>>>> = {
  british: {
    1: 'semibreve',
    2: 'minim',
    4: 'crotchet',
    8: 'quaver',
    16: 'semiquaver',
    32: 'demisemiquaver',
    64: 'hemidemisemiquaver',
  },
  american: {
    1: 'whole note',
    2: 'half note',
    4: 'quarter note',
    8: 'eighth note',
    16: 'sixteenth note',
    32: 'thirty-second note',
    64: 'sixty-fourth note',
  },
};

/**
 *
 * @example
 * valueName({ base: 4, dots: 1 }, 'british') // => 'dotted crotchet'
 */
export const valueName = (v: NoteValue, style: NameStyle = 'british'): string =>
  (v.dots === 0 ? '' : v.dots === 1 ? 'dotted ' : 'double-dotted ') + NAMES[style][v.base];

/**
 * A sentence written with British names, with the names of a style.
 * @example
 * restyled('swung quavers', 'american') // => 'swung eighth notes'
 */
export const restyled = (text: string, style: NameStyle): string =>
  BASES.reduce(
    (so, base) => so.replace(new RegExp(`\\b${NAMES.british[base]}(?=s?\\b)`, 'gi'), NAMES[style][base]),
    text,
  );
