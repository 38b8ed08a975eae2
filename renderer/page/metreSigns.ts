import { type Metre } from '../../core/foundation/metre.ts';
import { NOTATION, svg, text } from './svg.ts';

/** The notation font's figures of time signatures (SMuFL), 0 to 9 in a row. */
const ZERO_FIGURE = 0xe080;
/** A figure is at most this wide, in stave units. */
const FIGURE = 18;
/** Air between the barline, or the last sign of a key, and the figures, and after them. */
const BEFORE = 8;
const AFTER = 8;
/** The middle of the upper and of the lower figure, from the top line down: each fills half the stave. */
const UPPER = 10;
const LOWER = 30;

const figuresOf = (n: number): string =>
  Array.from(String(n), digit => String.fromCodePoint(ZERO_FIGURE + Number(digit))).join('');

const widthOf = ({ upper, lower }: Metre): number =>
  FIGURE * Math.max(String(upper).length, String(lower).length);

/** Room a new time signature takes in the middle of a system, in stave units; none where nothing changes. */
export const metreSignsWidth = (metre: Metre | undefined): number =>
  metre === undefined ? 0 : BEFORE + widthOf(metre) + AFTER;

/** A new time signature from `x` on, after the signs of a new key where there are any; `top` is the first line of the stave. */
export const metreSigns = (metre: Metre, x: number, top: number): SVGElement => {
  const group = svg('g', { class: 'metre-signs' });
  const middle = x + BEFORE + widthOf(metre) / 2;
  const figure = (n: number, y: number): SVGElement =>
    text(middle, top + y, figuresOf(n), {
      'font-family': NOTATION,
      'font-size': 40,
      'text-anchor': 'middle',
    });
  group.append(figure(metre.upper, UPPER), figure(metre.lower, LOWER));
  return group;
};
