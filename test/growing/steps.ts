import { expect } from 'vitest';
import { type Fraction, fraction } from '../../core/foundation/fraction.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth, OnConflict } from '../../core/growing/growth.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import type { Statement } from '../../core/plan/statement.ts';
import { IDEA } from '../plan/motifs.ts';

export const FIRST = firstPlan('xylophone', 90);
export const to = { newPart: 'marimba' } as const;
export const at = (id: string, part: string, onset: Fraction, more: Partial<Statement> = {}): Statement => ({
  id,
  part,
  onset,
  chain: [],
  times: 1,
  ...more,
});
export const planOf = (...statements: Statement[]): Plan => ({
  ...FIRST,
  parts: [
    { id: 'p1', instrument: 'xylophone' },
    { id: 'p2', instrument: 'marimba' },
  ],
  statements,
  nextId: 20,
});
export const grown = (
  step: Growth,
  plan = FIRST,
  motif: Motif = IDEA,
  onConflict?: OnConflict,
): { made: Statement; plan: Plan } => {
  const done = grow(motif, plan, step, onConflict);
  if (!done.ok) throw new Error(done.problem.what);
  const made = done.value.plan.statements.find(s => s.id === done.value.statement);
  if (made === undefined) throw new Error('names a statement that is not there');
  return { made, plan: done.value.plan };
};
export const refused = (step: Growth, plan = FIRST, motif: Motif = IDEA): string => {
  const done = grow(motif, plan, step);
  if (done.ok) throw new Error('was not refused');
  expect(done.problem.kept).toBe('Nothing was changed.');
  expect(done.problem.what).not.toBe('');
  expect(done.problem.next).not.toBe('');
  return `${done.problem.kind}: ${done.problem.what} ${done.problem.next}`;
};

/** The idea with its last crotchet before the barline instead. */
export const UPBEAT: Motif = {
  ...IDEA,
  upbeat: fraction(1, 4),
  notes: IDEA.notes.map(n => ({ ...n, onset: { n: n.onset.n * (8 / n.onset.d) - 2, d: 8 } })),
};
