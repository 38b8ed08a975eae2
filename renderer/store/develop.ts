import type { Result } from '../../core/foundation/result.ts';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../core/parts/instruments.ts';
import { grow, type GrowStep, type Target } from '../../core/parts/grow.ts';
import { findStatement, type Plan, removeStatement } from '../../core/parts/plan.ts';
import { statementName } from '../../core/parts/naming.ts';
import { motifOf, planOf } from '../../core/piece/piece.ts';
import { piece, preview, problem, selectedStatement } from './app.ts';
import { complain, step } from './change.ts';

/** Tries one step on the page without keeping it; a problem is said and nothing shown. */
export const tryStep = (name: string, made: GrowStep): boolean => {
  const now = piece.value;
  if (now === undefined) return false;
  const result: Result<{ plan: Plan; statement: string }> = grow(motifOf(now), planOf(now), made);
  if (!result.ok) {
    preview.value = undefined;
    complain(result.problem);
    return false;
  }
  problem.value = undefined;
  preview.value = { name, plan: result.value.plan, statement: result.value.statement };
  return true;
};

/** Keeps what is being tried, as one undoable step. */
export const keepPreview = (): void => {
  const tried = preview.value;
  if (tried === undefined) return;
  preview.value = undefined;
  selectedStatement.value = tried.statement;
  step(tried.name, old => ({ ...old, plan: tried.plan }));
};

export const leavePreview = (): void => {
  preview.value = undefined;
};

/** Changes the plan in one undoable step. */
export const changePlan = (name: string, change: (plan: Plan) => Plan): void => {
  preview.value = undefined;
  step(name, old => ({ ...old, plan: change(planOf(old)) }));
};

export const takeAway = (id: string): void => {
  const now = piece.value;
  if (now === undefined) return;
  const plan = planOf(now);
  const statement = findStatement(plan, id);
  if (statement === undefined) return;
  changePlan(`take away ${statementName(motifOf(now), plan, statement)}`, old => {
    const left = removeStatement(old, id);
    const empty = left.parts.filter(
      p => left.parts.length > 1 && !left.statements.some(s => s.part === p.id),
    );
    return { ...left, parts: left.parts.filter(p => !empty.includes(p)) };
  });
  selectedStatement.value = undefined;
};

/** Where a new statement may go, in words a pupil knows. */
export const targetChoices = (plan: Plan, except: string | undefined): { value: string; text: string }[] => {
  const there = plan.parts
    .filter(p => p.id !== except)
    .map(p => ({ value: `part:${p.id}`, text: `the ${INSTRUMENTS[p.instrument].name.toLowerCase()}` }));
  const used = new Set(plan.parts.map(p => p.instrument));
  const fresh = plan.parts.length >= 4 ? [] : INSTRUMENT_IDS.filter(id => !used.has(id));
  return [
    ...fresh.map(id => ({ value: `new:${id}`, text: `a new ${INSTRUMENTS[id].name.toLowerCase()}` })),
    ...there,
  ];
};

export const targetOf = (value: string): Target =>
  value.startsWith('new:')
    ? { newPart: value.slice(4) as InstrumentId }
    : { part: value.replace(/^part:/, '') };
