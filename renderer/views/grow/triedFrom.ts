import { barStart } from '../../../core/foundation/barring.ts';
import { type Fraction, ZERO } from '../../../core/foundation/fraction.ts';
import type { BarIndex } from '../../../core/foundation/units.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { barringIn } from '../../../core/plan/keys.ts';
import { findStatement, type Plan } from '../../../core/plan/plan.ts';
import { changedBar } from './changedBar.ts';

/** Where on the page what is tried holds, and from where it is heard; in semibreves from the first barline. */
export interface TriedFrom {
  readonly holds: Fraction;
  readonly heard: Fraction;
  /** Whether it is a statement, and so has a bracket; else it holds from a bar on. */
  readonly isStatement: boolean;
}

/**
 * Where what is tried begins. A new statement begins with itself; a change of key, metre or tempo holds from a bar on,
 * and is heard from the bar before, for what comes is told from what was.
 * @param statement the statement that was grown or grown from
 */
export const triedFrom = (motif: Motif, kept: Plan, tried: Plan, statement: string): TriedFrom => {
  const now = findStatement(tried, statement);
  const isNew = now !== undefined && findStatement(kept, statement) === undefined;
  const bar = isNew ? undefined : changedBar(kept, tried);
  const onset = now?.onset ?? ZERO;
  if (bar === undefined) return { holds: onset, heard: onset, isStatement: true };
  const barring = barringIn(motif, tried);
  const start = (index: BarIndex): Fraction => barStart(barring, Math.max(0, index));
  return { holds: start(bar), heard: start(bar - 1), isStatement: false };
};
