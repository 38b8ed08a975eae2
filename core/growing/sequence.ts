import { failed, ok } from '../foundation/result.ts';
import type { Motif } from '../motif/motif.ts';
import { unplaced } from '../plan/marks.ts';
import { findStatement, type Plan } from '../plan/plan.ts';
import { onsetAfter, type Statement, treatedFurther } from '../plan/statement.ts';
import type { Grown, Growth, OnConflict } from './growth.ts';
import { place } from './place.ts';
import { outOfRange } from './refusals.ts';

/** The statement again straight after itself, moved by the same number of steps each time. */
export const sequence = (
  motif: Motif,
  plan: Plan,
  from: Statement,
  step: Pick<Extract<Growth, { kind: 'sequence' }>, 'steps' | 'copies' | 'by'>,
  onConflict: OnConflict | undefined,
): Grown => {
  if (step.steps === 0 || step.copies < 1 || step.copies > 16)
    return failed(outOfRange('one step or more, and 1 to 16 copies'));
  let grown: Grown = ok({ plan, statement: from.id });
  let before = from;
  for (let k = 0; k < step.copies && grown.ok; k++) {
    const { id: _, ...base } = unplaced(before);
    grown = place(
      motif,
      grown.value.plan,
      {
        ...base,
        onset: onsetAfter(motif, before),
        ...treatedFurther(motif, before, [{ kind: 'transpose', by: step.by ?? 'scale', steps: step.steps }]),
        leader: before.id,
      },
      onConflict,
    );
    if (grown.ok) before = findStatement(grown.value.plan, grown.value.statement) ?? before;
  }
  return grown;
};
