import type { Fonts } from './fonts.ts';
import { fit } from './fit.ts';
import type { Lettering } from './marks.ts';

/** Words as they are set: whole, on as many lines as they need. */
export interface Wrapped {
  readonly lines: readonly string[];
  readonly size: number;
  /** Of the longest line. */
  readonly width: number;
}

/** On more lines than these nobody reads a name at a glance (our choice). */
const MOST_LINES = 3;
/** Names are set smaller before they take another line, in these steps, and never smaller than the last. */
export const SMALLEST = 0.8;
const SIZES = [1, 0.9, SMALLEST] as const;
/** Where even three lines are too few, as in a bar of one note, they may be as small as this. */
const LAST_SIZES = [0.7, 0.6, 0.5] as const;

/** Words broken between words into lines no wider than `most`; undefined where a word is wider. */
const broken = (text: string, widthOf: (text: string) => number, most: number): string[] | undefined => {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    const longer = last === undefined ? word : `${last} ${word}`;
    if (last !== undefined && widthOf(longer) <= most) lines[lines.length - 1] = longer;
    else lines.push(word);
    if (widthOf(word) > most) return undefined;
  }
  return lines;
};

/**
 * Words whole in a width: on one line, a little smaller if need be, else on up to three, else smaller still. Only what
 * even so has no room is cut short. Sizes and widths in one unit.
 */
export const wrap = (fonts: Fonts, hand: Lettering, text: string, size: number, most: number): Wrapped => {
  const set = (factor: number, lines: number): Wrapped | undefined => {
    const own = size * factor;
    const widthOf = (words: string): number => fonts.width(hand, own, words);
    const found = broken(text, widthOf, most);
    if (found === undefined || found.length > lines) return undefined;
    return { lines: found, size: own, width: Math.max(...found.map(widthOf)) };
  };
  for (let lines = 1; lines <= MOST_LINES; lines++) {
    for (const factor of SIZES) {
      const found = set(factor, lines);
      if (found !== undefined) return found;
    }
  }
  for (const factor of LAST_SIZES) {
    const found = set(factor, MOST_LINES);
    if (found !== undefined) return found;
  }
  const cut = fit(fonts, hand, text, size, most, 0.5);
  return { lines: [cut.text], size: cut.size, width: cut.width };
};
