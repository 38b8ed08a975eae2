import { phraseOf } from '../parts/statement.ts';
import { motifOf, type Piece, planOf } from './piece.ts';

/** Statements that sound other notes after a change of the motif than before: those still tied to it. */
export const ripples = (before: Piece, after: Piece): readonly string[] => {
  if (before.plan === undefined || before.plan !== after.plan) return [];
  const was = motifOf(before);
  const now = motifOf(after);
  if (JSON.stringify(was) === JSON.stringify(now)) return [];
  return planOf(after)
    .statements.filter(s => JSON.stringify(phraseOf(was, s)) !== JSON.stringify(phraseOf(now, s)))
    .map(s => s.id);
};
