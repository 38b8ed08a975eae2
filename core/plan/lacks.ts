import type { Problem } from '../foundation/result.ts';
import { findStatement, type Plan } from './plan.ts';
import type { Statement } from './statement.ts';

/**
 * What a statement names that the plan does not have: its part, or the statement it follows ('not-found');
 * undefined where it has both.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * lackOf(plan, { ...plan.statements[0], part: 'p9' })?.kind // => 'not-found'
 */
export const lackOf = (plan: Plan, statement: Statement): Problem | undefined => {
  if (!plan.parts.some(p => p.id === statement.part)) return gonePart();
  const { leader } = statement;
  return leader === undefined || (leader !== statement.id && findStatement(plan, leader) !== undefined)
    ? undefined
    : goneStatement();
};

/**
 * The plan with no statement tied to a leader that is gone: such a one stands on its own.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * const tied = { ...plan, statements: plan.statements.map(s => ({ ...s, leader: 's9' })) };
 * freed(tied) // => plan
 */
export const freed = (plan: Plan): Plan => {
  const there = new Set(plan.statements.map(s => s.id));
  const tied = (s: Statement): boolean => s.leader !== undefined && !there.has(s.leader);
  if (!plan.statements.some(tied)) return plan;
  return {
    ...plan,
    statements: plan.statements.map(s => {
      if (!tied(s)) return s;
      const { leader: _, ...free } = s;
      return free;
    }),
  };
};

/** A part that is not in the plan ('not-found'). */
export const gonePart = (): Problem => ({
  kind: 'not-found',
  what: 'That part is no longer in the piece.',
  kept: 'Nothing was changed.',
  next: 'Choose another part.',
});

/** A statement that is not in the plan ('not-found'). */
export const goneStatement = (): Problem => ({
  kind: 'not-found',
  what: 'That statement is no longer in the piece.',
  kept: 'Nothing was changed.',
  next: 'Choose a bracket on the page and try again.',
});
