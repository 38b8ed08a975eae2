import { signal } from '@preact/signals';
import type { Articulation, Dynamic } from '../../core/plan/dynamics.ts';
import { editByHand, type HandEdit, retie } from '../../core/growing/detach.ts';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../core/instruments/instruments.ts';
import { grow, type Growth, type Target, type OnConflict } from '../../core/growing/grow.ts';
import { partName } from '../../core/plan/partList.ts';
import { beatsAway, findStatement, type Plan, removeStatement, statementsOf } from '../../core/plan/plan.ts';
import { statementName } from '../../core/plan/naming.ts';
import { type Statement, statementEnd } from '../../core/plan/statement.ts';
import { motifOf, pieceScore, planOf } from '../../core/piece/piece.ts';
import { isWrittenExactly } from '../../core/score/writable.ts';
import type { Problem } from '../../core/foundation/result.ts';
import { piece, preview, problem, selectedPlanNote, selectedStatement } from './app.ts';
import { complain, step } from './change.ts';
import type { Listening } from './hear.ts';

/** A step that found its place taken: it can be tried again with a choice. */
export const takenStep = signal<{ readonly name: string; readonly step: Growth } | undefined>(undefined);

/** Tries one step on the page without keeping it; a problem is said and nothing shown. */
export const tryStep = (name: string, made: Growth, onConflict?: OnConflict): boolean => {
  const now = piece.value;
  takenStep.value = undefined;
  if (now === undefined) return false;
  const result = grow(motifOf(now), planOf(now), made, onConflict);
  if (!result.ok) {
    preview.value = undefined;
    complain(result.problem);
    const canChoose =
      result.problem.kind === 'conflict' && made.kind !== 'section' && made.kind !== 'exchange';
    if (canChoose && onConflict === undefined) takenStep.value = { name, step: made };
    return false;
  }
  const written = (plan: Plan): boolean => isWrittenExactly(pieceScore(now, plan));
  // A page that was inexact before, because the motif was changed under it, is no reason to refuse.
  if (!written(result.value.plan) && written(planOf(now))) {
    preview.value = undefined;
    complain(tooFine);
    return false;
  }
  problem.value = undefined;
  preview.value = { name, plan: result.value.plan, statement: result.value.statement };
  return true;
};

const tooFine: Problem = {
  kind: 'out-of-range',
  what: 'Some notes would become too short, or too uneven, to be written.',
  kept: 'Nothing was changed.',
  next: 'Choose a smaller number, or leave one of the changes out.',
};

/** Tries the step again that found its place taken. */
export const tryAnyway = (onConflict: OnConflict): boolean => {
  const taken = takenStep.value;
  return taken !== undefined && tryStep(taken.name, taken.step, onConflict);
};

/** Keeps what is being tried, as one undoable step. */
export const keepPreview = (): void => {
  const tried = preview.value;
  if (tried === undefined) return;
  preview.value = undefined;
  selectedStatement.value = tried.statement;
  selectedPlanNote.value = undefined;
  step(tried.name, old => ({ ...old, plan: tried.plan }));
};

export const leavePreview = (): void => {
  preview.value = undefined;
  takenStep.value = undefined;
};

/** Changes the plan in one undoable step. */
export const changePlan = (name: string, change: (plan: Plan) => Plan): void => {
  leavePreview();
  step(name, old => {
    const plan = planOf(old);
    const next = change(plan);
    return next === plan ? old : { ...old, plan: next };
  });
};

const named = (id: string): string => {
  const now = piece.value;
  const statement = now === undefined ? undefined : findStatement(planOf(now), id);
  return now === undefined || statement === undefined
    ? 'it'
    : statementName(motifOf(now), planOf(now), statement);
};

/** Does one step at once and keeps it; a problem is said. */
const doStep = (name: string, made: Growth): boolean => {
  if (!tryStep(name, made)) return false;
  keepPreview();
  return true;
};

export const takeAway = (id: string): void => {
  const now = piece.value;
  if (now === undefined || planOf(now).statements.length < 2) return;
  changePlan(`take away ${named(id)}`, old => {
    const left = removeStatement(old, id);
    const empty = left.parts.filter(
      p => left.parts.length > 1 && !left.statements.some(s => s.part === p.id),
    );
    return { ...left, parts: left.parts.filter(p => !empty.includes(p)) };
  });
  selectedStatement.value = undefined;
};

/** Moves a statement by beats; what stands in the way is said. */
export const moveStatement = (id: string, beats: number): void => {
  const now = piece.value;
  const statement = now === undefined ? undefined : findStatement(planOf(now), id);
  if (now === undefined || statement === undefined) return;
  const at = beatsAway(motifOf(now).metre, statement.onset, beats);
  doStep(`move ${named(id)} ${beats > 0 ? 'later' : 'earlier'}`, { kind: 'move', statement: id, onset: at });
};

/** Moves a statement to the part above (-1) or below (+1). */
export const moveToPart = (id: string, by: 1 | -1): void => {
  const now = piece.value;
  if (now === undefined) return;
  const plan = planOf(now);
  const statement = findStatement(plan, id);
  const index = plan.parts.findIndex(p => p.id === statement?.part);
  const part = plan.parts[index + by];
  if (statement === undefined || part === undefined) return;
  doStep(`give ${named(id)} to the ${partName(plan, part).toLowerCase()}`, {
    kind: 'move',
    statement: id,
    onset: statement.onset,
    part: part.id,
  });
};

/** The same statement again, where its part is next free. */
export const copyStatement = (id: string): void => {
  const now = piece.value;
  const plan = now === undefined ? undefined : planOf(now);
  const statement = plan === undefined ? undefined : findStatement(plan, id);
  if (now === undefined || plan === undefined || statement === undefined) return;
  const made: Growth = {
    kind: 'state',
    statement: id,
    treatments: [],
    to: { part: statement.part },
    onset: statementEnd(motifOf(now), statement),
    times: statement.times,
  };
  if (tryStep(`copy ${named(id)}`, made, 'postpone')) keepPreview();
};

const changeStatement = (name: string, id: string, change: (statement: Statement) => Statement): void => {
  changePlan(name, old => ({
    ...old,
    statements: old.statements.map(s => (s.id === id ? change(s) : s)),
  }));
};

export const setDynamic = (id: string, dynamic: Dynamic | undefined): void => {
  changeStatement(`loudness ${dynamic ?? 'as before'}`, id, ({ dynamic: _, ...s }) =>
    dynamic === undefined ? s : { ...s, dynamic },
  );
};

export const setArticulation = (id: string, articulation: Articulation | undefined): void => {
  changeStatement(`played ${articulation ?? 'plainly'}`, id, ({ articulation: _, ...s }) =>
    articulation === undefined ? s : { ...s, articulation },
  );
};

export const tieAgain = (id: string): void => {
  changePlan('tie to the motif again', old => retie(old, id));
};

/** Changes one note of a statement by hand; the statement is untied from the motif first. */
export const changeByHand = (id: string, name: string, edit: HandEdit): void => {
  const now = piece.value;
  if (now !== undefined) changePlan(name, old => editByHand(motifOf(now), old, id, edit));
};

/** Plays one statement alone, at its own place. */
export const hearStatement = (listening: Listening, id: string, from: number): void => {
  const now = piece.value;
  if (now === undefined) return;
  const plan = planOf(now);
  const only = plan.statements.filter(s => s.id === id);
  const score = pieceScore(now, { ...plan, statements: only });
  listening.score('statement', score, { from });
};

/** Chooses the statement before or after in reading order: by part, then by entry. */
export const walkStatements = (by: 1 | -1): void => {
  const now = piece.value;
  if (now === undefined) return;
  const plan = planOf(now);
  const all = plan.parts.flatMap(part => statementsOf(plan, part.id));
  const index = all.findIndex(s => s.id === selectedStatement.value);
  const next = all[Math.min(all.length - 1, Math.max(0, index < 0 ? 0 : index + by))];
  selectedPlanNote.value = undefined;
  if (next !== undefined) selectedStatement.value = next.id;
};

/** Where a new statement may go, in words a pupil knows. */
export const targetChoices = (plan: Plan, except: string | undefined): { value: string; text: string }[] => {
  const there = plan.parts
    .filter(p => p.id !== except)
    .map(p => ({ value: `part:${p.id}`, text: `the ${partName(plan, p).toLowerCase()}` }));
  const used = new Set(plan.parts.map(p => p.instrument));
  const fresh = plan.parts.length >= 4 ? [] : INSTRUMENT_IDS.filter(id => !used.has(id));
  const more = plan.parts.length >= 4 ? [] : INSTRUMENT_IDS.filter(id => used.has(id));
  return [
    ...fresh.map(id => ({ value: `new:${id}`, text: `a new ${INSTRUMENTS[id].name.toLowerCase()}` })),
    ...there,
    ...more.map(id => ({ value: `new:${id}`, text: `another ${INSTRUMENTS[id].name.toLowerCase()}` })),
  ];
};

export const targetOf = (value: string): Target =>
  value.startsWith('new:')
    ? { newPart: value.slice(4) as InstrumentId }
    : { part: value.replace(/^part:/, '') };
