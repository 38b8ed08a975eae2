import type { StaveHeight } from '../page/options.ts';
import type { Under } from '../page/under.ts';

/** How a piece is put on paper. */
export interface PrintOptions {
  /** Height of a stave, in mm; more than 7 is large print, with thicker lines. */
  readonly staveHeight?: StaveHeight;
  /** Rows of text under the notes. */
  readonly under?: readonly Under[];
}

/** CSS pixels in a millimetre: 96 to the inch. */
export const MM = 96 / 25.4;

/** A4 portrait (ISO 216) and its margins, in CSS pixels. */
export const PAPER = {
  width: 210 * MM,
  height: 297 * MM,
  side: 14 * MM,
  top: 13 * MM,
  /** Where the music ends; the page number stands below. */
  bottom: 297 * MM - 17 * MM,
  foot: 297 * MM - 9 * MM,
} as const;

/** Width music may fill. */
export const MUSIC_WIDTH = Math.round(PAPER.width - 2 * PAPER.side);
