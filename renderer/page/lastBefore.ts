import type { ScorePart, ScoreSymbol } from '../../core/score/score.ts';

/**
 * The last symbol before a bar that is as asked: what may run into that bar. Walks back from it, for every
 * system of a long page asks.
 * @param first index of the bar, from 0
 */
export const lastBefore = (
  part: ScorePart,
  first: number,
  isAsked: (symbol: ScoreSymbol) => boolean,
): ScoreSymbol | undefined => {
  for (let b = Math.min(first, part.bars.length) - 1; b >= 0; b--) {
    const symbols = part.bars[b]?.symbols ?? [];
    for (let i = symbols.length - 1; i >= 0; i--) {
      const symbol = symbols[i];
      if (symbol !== undefined && isAsked(symbol)) return symbol;
    }
  }
  return undefined;
};
