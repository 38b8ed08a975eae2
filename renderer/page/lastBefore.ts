import type { ScorePart, ScoreSymbol } from '../../core/score/score.ts';

type Asked = (symbol: ScoreSymbol) => boolean;

/** The last symbol that is as asked before each bar of a part, and after them all. */
const known = new WeakMap<ScorePart, Map<Asked, readonly (ScoreSymbol | undefined)[]>>();

const lastsBefore = (part: ScorePart, isAsked: Asked): readonly (ScoreSymbol | undefined)[] => {
  let last: ScoreSymbol | undefined;
  const lasts = [last];
  for (const bar of part.bars) {
    for (const symbol of bar.symbols) if (isAsked(symbol)) last = symbol;
    lasts.push(last);
  }
  return lasts;
};

/**
 * The last symbol before a bar that is as asked: what may run into that bar. A part is gone through once, for every
 * system of a long page asks.
 * @param first index of the bar, from 0
 * @param isAsked the same function each time, so that it is known what was asked
 */
export const lastBefore = (part: ScorePart, first: number, isAsked: Asked): ScoreSymbol | undefined => {
  const ofPart = known.get(part) ?? new Map<Asked, readonly (ScoreSymbol | undefined)[]>();
  known.set(part, ofPart);
  const lasts = ofPart.get(isAsked) ?? lastsBefore(part, isAsked);
  ofPart.set(isAsked, lasts);
  return lasts[Math.min(first, part.bars.length)];
};
