import { resolveOverlaps } from '../growing/resolveOverlaps.ts';
import type { Motif } from '../motif/motif.ts';
import { passageOf, type Statement } from '../plan/statement.ts';
import { motifOf, type Piece, planOf } from './piece.ts';

/** What is heard of a statement; without the further motifs that lie beside the first. */
const sounding = (motif: Motif, statement: Statement): string => {
  const { notes, length, upbeat } = passageOf(motif, statement);
  return JSON.stringify([notes, length, upbeat]);
};

/** Statements that sound other notes after a change of the motif than before: those still tied to it. */
export const ripples = (before: Piece, after: Piece): readonly string[] => {
  if (before.plan === undefined || before.plan !== after.plan) return [];
  const was = motifOf(before);
  const now = motifOf(after);
  if (JSON.stringify(was) === JSON.stringify(now)) return [];
  return planOf(after)
    .statements.filter(s => sounding(was, s) !== sounding(now, s))
    .map(s => s.id);
};

/**
 * A piece whose motif was changed, with statements that have no room any more where they stood put
 * where their part is next free. What the plan says is otherwise left alone.
 */
export const withRipples = (before: Piece, after: Piece): Piece => {
  if (after.plan === undefined || before.plan !== after.plan) return after;
  const motif = motifOf(after);
  if (JSON.stringify(motifOf(before)) === JSON.stringify(motif)) return after;
  const plan = resolveOverlaps(motif, after.plan);
  return plan === after.plan ? after : { ...after, plan };
};
