/**
 * Widths of notation signs in stave units, ten to a stave space (Bravura's published metadata,
 * `glyphBBoxes`, from memory; `test/e2e/collisions.spec.ts` holds the page to the drawn ink).
 */
export const HEAD_WIDTH: Readonly<Record<number, number>> = { 1: 17, 2: 12 };
export const BLACK_HEAD = 11.8;
export const headWidthOf = (base: number): number => HEAD_WIDTH[base] ?? BLACK_HEAD;

export const REST_WIDTH: Readonly<Record<number, number>> = {
  1: 11.5,
  2: 11.5,
  4: 11,
  8: 10,
  16: 13,
  32: 14.5,
  64: 17,
};
export const restWidthOf = (base: number): number => REST_WIDTH[base] ?? 11;

/** Signs before a head, with the gap VexFlow leaves after them. */
const SIGN_WIDTH: Readonly<Record<string, number>> = { '-2': 17, '-1': 9.5, '0': 7, '1': 10, '2': 10 };
export const signWidthOf = (alter: number, cautionary: boolean): number =>
  (SIGN_WIDTH[String(alter)] ?? 10) + 3.5 + (cautionary ? 12 : 0);

export const DOT_WIDTH = 7.5;
export const FLAG_WIDTH = 11;
export const GRACE_WIDTH = 16;

/** Codes of the signs we set as text ourselves (SMuFL, the Standard Music Font Layout). */
export const DYNAMIC_GLYPH: Readonly<Record<string, string>> = {
  pp: '\ue52b',
  p: '\ue520',
  mp: '\ue52c',
  mf: '\ue52d',
  f: '\ue522',
  ff: '\ue52f',
};
/** Over and under a note. */
export const ARTICULATION_GLYPH = {
  accent: ['\ue4a0', '\ue4a1'],
  staccato: ['\ue4a2', '\ue4a3'],
  tenuto: ['\ue4a4', '\ue4a5'],
} as const;
/** One to three strokes of a tremolo; their origin is their middle (SMuFL, U+E220 to U+E222). */
export const ROLL_GLYPH = { 1: '\ue220', 2: '\ue221', 3: '\ue222' } as const;
/** Over the stave. */
/** Pedal down and up (SMuFL's keyboard techniques). */
export const PEDAL_GLYPH = { down: '\ue650', up: '\ue655' } as const;
export const FERMATA_GLYPH = '\ue4c0';
export const METRONOME_GLYPH: Readonly<Record<number, string>> = {
  1: '\ueca2',
  2: '\ueca3',
  4: '\ueca5',
  8: '\ueca7',
  16: '\ueca9',
};
export const METRONOME_DOT = '\uecb7';
/**
 * Figures of the notation font (SMuFL's fingering digits), for metronome marks: the text font strokes its
 * noughts, which reads as a sign there.
 * @example
 * figures(96).length // => 2
 */
export const figures = (n: number): string =>
  Array.from(String(Math.round(n)), digit => {
    const d = Number(digit);
    return String.fromCodePoint(d < 6 ? 0xed10 + d : 0xed24 + d - 6);
  }).join('');
