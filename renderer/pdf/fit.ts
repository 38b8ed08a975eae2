import type { Fonts } from './fonts.ts';
import type { Lettering } from './marks.ts';

/**
 * Words as large as fit into a width: smaller if need be, down to `least` of their size, then cut short.
 * Sizes and widths in one unit.
 */
export const fit = (
  fonts: Fonts,
  hand: Lettering,
  text: string,
  size: number,
  most: number,
  least: number,
): { readonly text: string; readonly size: number; readonly width: number } => {
  const natural = fonts.width(hand, size, text);
  if (natural <= most) return { text, size, width: natural };
  const smaller = size * Math.max(least, most / natural);
  const fits = (shown: string): boolean => fonts.width(hand, smaller, shown) <= most + 1e-6;
  if (fits(text)) return { text, size: smaller, width: fonts.width(hand, smaller, text) };
  const letters = Array.from(text);
  while (letters.length > 1 && !fits(`${letters.join('').trim()}…`)) letters.pop();
  const shown = `${letters.join('').trim()}…`;
  return { text: shown, size: smaller, width: fonts.width(hand, smaller, shown) };
};
