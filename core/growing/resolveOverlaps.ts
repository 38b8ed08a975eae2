import { add, equal, less, subtract } from '../foundation/fraction.ts';
import type { Motif } from '../motif/motif.ts';
import type { Plan } from '../plan/plan.ts';
import { busyUntil } from '../plan/standing.ts';
import { type Statement, statementStart } from '../plan/statement.ts';

/** In order of entry; where two enter together, the one that was made first, for it may lead the other. */
const inOrderOfEntry = (statements: readonly Statement[]): readonly Statement[] =>
  [...statements].sort((a, b) => (less(a.onset, b.onset) ? -1 : less(b.onset, a.onset) ? 1 : 0));

/**
 * The plan with no two statements sounding at once in a part, for a motif that became longer under it:
 * a statement whose part still plays waits until it is free, and what answers a statement that waits
 * keeps its distance from it. The same plan where nothing is in the way.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * resolveOverlaps(idea, plan) === plan // => true
 */
export const resolveOverlaps = (motif: Motif, plan: Plan): Plan => {
  const moved = new Map<string, Statement>();
  const lastIn = new Map<string, Statement>();
  for (const statement of inOrderOfEntry(plan.statements)) {
    const leader = plan.statements.find(s => s.id === statement.leader);
    const led = leader === undefined ? undefined : moved.get(leader.id);
    const wanted =
      leader === undefined || led === undefined
        ? statement.onset
        : add(statement.onset, subtract(led.onset, leader.onset));
    const before = lastIn.get(statement.part);
    const start = statementStart(motif, { ...statement, onset: wanted });
    const free = before === undefined ? start : busyUntil(motif, plan, before);
    const at = less(start, free) ? add(wanted, subtract(free, start)) : wanted;
    const placed = equal(at, statement.onset) ? statement : { ...statement, onset: at };
    moved.set(statement.id, placed);
    lastIn.set(statement.part, placed);
  }
  const statements = plan.statements.map(s => moved.get(s.id) ?? s);
  return statements.every((s, i) => s === plan.statements[i]) ? plan : { ...plan, statements };
};
