import { add, equal } from '../foundation/fraction.ts';
import type { Score } from './score.ts';

/**
 * Whether every note could be written at its own place and length. Values below a hemidemisemiquaver,
 * and tuplets inside tuplets, cannot: their symbols then do not follow on one another without a gap.
 */
export const isWrittenExactly = (score: Score): boolean =>
  score.parts.every(part =>
    part.bars.every(bar => {
      let at = bar.start;
      for (const symbol of bar.symbols) {
        if (!equal(symbol.onset, at)) return false;
        at = add(at, symbol.duration);
      }
      return bar.symbols.length === 0 || equal(at, add(bar.start, bar.length));
    }),
  );
