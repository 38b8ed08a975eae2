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

/** A leaf and its margins, in CSS pixels. */
export interface Leaf {
  readonly width: number;
  readonly height: number;
  readonly side: number;
  readonly top: number;
  /** Where the music ends; the page number stands below. */
  readonly bottom: number;
  readonly foot: number;
}

const leaf = (width: number, height: number): Leaf => ({
  width: width * MM,
  height: height * MM,
  side: 14 * MM,
  top: 13 * MM,
  bottom: (height - 17) * MM,
  foot: (height - 9) * MM,
});

/** A4 (ISO 216), upright and on its side. */
export const UPRIGHT = leaf(210, 297);
export const ON_ITS_SIDE = leaf(297, 210);

/** Width music may fill. */
export const widthOfMusic = ({ width, side }: Leaf): number => Math.round(width - 2 * side);
export const MUSIC_WIDTH = widthOfMusic(UPRIGHT);
