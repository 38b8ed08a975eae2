import { add, equal } from '../foundation/fraction.ts';
import type { Score } from './score.ts';

/**
 * Whether every note could be written at its own place and length. Values below a hemidemisemiquaver,
 * and tuplets inside tuplets, cannot: their symbols then do not follow on one another without a gap.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * const score = scoreOfPlan(idea, plan, 'Idea', 'Heron');
 * isWrittenExactly(score) // => true
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

/** More notes than this in a tuplet are counted by nobody in a classroom (our choice; sevens are in handbooks). */
const MOST_IN_TUPLET = 7;

/**
 * Whether every tuplet is one that players read: no nine in the time of eight.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * isReadable(scoreOfPlan(idea, firstPlan('xylophone', 90), 'Idea', 'Heron')) // => true
 */
export const isReadable = (score: Score): boolean =>
  score.parts.every(part => part.bars.every(bar => bar.tuplets.every(t => t.actual <= MOST_IN_TUPLET)));
