import { equal } from '../foundation/fraction.ts';
import type { BarIndex } from '../foundation/units.ts';
import { metreChange } from './metreAt.ts';
import type { Score } from './score.ts';

/**
 * Whether a double barline stands at the end of a bar: where a rehearsal letter, another key, metre or tempo begins with
 * the next one (Gould, Behind Bars, 2011; from memory). Repeat and final barlines go before it.
 * @param index of the bar, from 0
 */
export const isDoubleAfter = (score: Score, index: BarIndex): boolean => {
  const next = score.parts[0]?.bars[index + 1];
  if (next === undefined) return false;
  if (score.repeats?.some(r => r.bar + r.bars - 1 === index) === true) return false;
  // A new signature stands between the double barline and the sign that opens a repeat.
  if (score.keys?.some(k => k.bar === index + 1) === true) return true;
  if (metreChange(score, index + 1) !== undefined) return true;
  if (score.repeats?.some(r => r.bar === index + 1) === true) return false;
  return (
    score.letters.some(l => l.bar === index + 1) ||
    (score.tempi ?? []).some(change => equal(change.at, next.start))
  );
};
