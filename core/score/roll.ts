import type { ScoreSymbol } from './score.ts';

/**
 * How many strokes a roll has through the stem: with flags or beams three in all, the sign of notes struck as fast
 * as one can, and at least one (Gould, Behind Bars, 2011; from memory).
 * @example
 * rollMarks({ value: { base: 4, dots: 0 } }) // => 3
 * rollMarks({ value: { base: 8, dots: 0 } }) // => 2
 */
export const rollMarks = ({ value }: Pick<ScoreSymbol, 'value'>): 1 | 2 | 3 =>
  value.base <= 4 ? 3 : value.base === 8 ? 2 : 1;
