import { bar, NOTATION, svg, text } from './svg.ts';

/** Room over the top line for the number of bars, in stave units. */
export const NUMBER_ABOVE = 30;

/** Figures of a metre (SMuFL), which number the bars of a long rest too. */
const figuresOf = (n: number): string =>
  Array.from(String(n), digit => String.fromCodePoint(0xe080 + Number(digit))).join('');

/**
 * A rest of several bars: a thick line on the middle of the stave, an upright at each end, and how many bars
 * over it (common practice, no source). @param top y of the first line
 */
export const longRest = (left: number, right: number, top: number, bars: number): SVGElement => {
  const rest = svg('g', { class: 'long-rest' });
  rest.append(
    bar(left, top + 17, right - left, 6),
    bar(left, top + 10, 1.6, 20),
    bar(right - 1.6, top + 10, 1.6, 20),
    text((left + right) / 2, top - 16, figuresOf(bars), {
      'font-family': NOTATION,
      'font-size': 40,
      'text-anchor': 'middle',
    }),
  );
  return rest;
};
