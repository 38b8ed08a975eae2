import { equal, less } from '../foundation/fraction.ts';
import type { Score, Stretch } from './score.ts';

/** Whether the old tempo comes again after a ritardando: something follows it, and no mark says another. */
export const isTempoAgain = (score: Score, { to }: Stretch): boolean => {
  if ((score.tempi ?? []).some(t => equal(t.at, to))) return false;
  return score.parts.some(part =>
    part.bars.some(bar => bar.symbols.some(s => s.pitches.length > 0 && !less(s.onset, to))),
  );
};
