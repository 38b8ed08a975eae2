import { failed, ok, type Result } from '../foundation/result.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import type { Motif } from '../motif/motif.ts';
import { freed, goneStatement, lackOf } from './lacks.ts';
import { findStatement, MOST_PARTS, type Plan } from './plan.ts';
import { alreadyPlaying, standingIn } from './standing.ts';
import type { Statement } from './statement.ts';

/**
 * Adds a part; at most four, each instrument as often as wished.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * const added = addPart(plan, 'marimba');
 * added.ok && added.value.part // => 'p2'
 */
export const addPart = (plan: Plan, instrument: InstrumentId): Result<{ plan: Plan; part: string }> => {
  if (plan.parts.length >= MOST_PARTS) {
    return failed({
      kind: 'conflict',
      what: 'A piece has four parts at the most.',
      kept: 'Nothing was changed.',
      next: 'Put this into one of the parts that are there.',
    });
  }
  const id = `p${String(plan.nextId)}`;
  return ok({
    part: id,
    plan: { ...plan, parts: [...plan.parts, { id, instrument }], nextId: plan.nextId + 1 },
  });
};

/** Adds a statement where there is room; otherwise says what stands there, or what it names that is gone. */
export const addStatement = (
  motif: Motif,
  plan: Plan,
  statement: Omit<Statement, 'id'>,
): Result<{ plan: Plan; id: string }> => {
  const id = `s${String(plan.nextId)}`;
  const made: Statement = { ...statement, id };
  const lacking = lackOf(plan, made);
  if (lacking !== undefined) return failed(lacking);
  const other = standingIn(motif, plan, made);
  if (other !== undefined) return failed(alreadyPlaying(motif, plan, other));
  return ok({
    id,
    plan: { ...plan, statements: [...plan.statements, made], nextId: plan.nextId + 1 },
  });
};

/** Changes one statement, where the changed one still has room. */
export const changeStatement = (
  motif: Motif,
  plan: Plan,
  id: string,
  change: Partial<Omit<Statement, 'id'>>,
): Result<Plan> => {
  const old = findStatement(plan, id);
  if (old === undefined) return failed(goneStatement());
  const changed: Statement = { ...old, ...change };
  const lacking = lackOf(plan, changed);
  if (lacking !== undefined) return failed(lacking);
  const other = standingIn(motif, plan, changed);
  if (other !== undefined) return failed(alreadyPlaying(motif, plan, other));
  return ok({ ...plan, statements: plan.statements.map(s => (s.id === id ? changed : s)) });
};

/**
 * Takes one statement away; what followed it stays, no longer tied to a leader.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * removeStatement(plan, 's1').statements // => []
 */
export const removeStatement = (plan: Plan, id: string): Plan =>
  freed({ ...plan, statements: plan.statements.filter(s => s.id !== id) });
