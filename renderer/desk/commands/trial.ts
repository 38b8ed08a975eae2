import { failed, ok, type Problem } from '../../../core/foundation/result.ts';
import type { Growth, OnConflict } from '../../../core/growing/growth.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { beyondReach } from '../../../core/library/withinReach.ts';
import { motifOf, type Piece, planOf, withPlan } from '../../../core/piece/piece.ts';
import { writtenStep } from '../../../core/score/writtenStep.ts';
import type { Command } from '../command.ts';
import { NOTHING_TRIED } from '../live.ts';
import { type DeskState, withLive, withSession } from '../state.ts';
import { step } from './step.ts';

/**
 * Tries one step on the page without keeping it. What is refused is not shown: the problem is said, and stays with
 * what was asked for until that is left; where its position is occupied the step is remembered, so that it can be tried
 * again with a choice.
 */
export const tryStep: Command<[name: string, made: Growth, onConflict?: OnConflict]> = (
  desk,
  name,
  made,
  onConflict,
) => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined) return failed(NOTHING_TO_GROW);
  const grown = writtenStep(motifOf(piece), planOf(piece), made, onConflict);
  const result = grown.ok && !isKeepable(piece, grown.value.plan) ? failed(NOT_KEPT) : grown;
  if (!result.ok) {
    const { problem } = result;
    const canChoose = problem.kind === 'conflict' && !['section', 'exchange', 'metre'].includes(made.kind);
    const conflict = canChoose && onConflict === undefined ? { name, step: made } : undefined;
    return ok(withLive(desk, { trial: undefined, conflict, problem, refused: problem }));
  }
  const { plan, statement } = result.value;
  return ok(withLive(desk, { ...NOTHING_TRIED, trial: { name, plan, statement }, problem: undefined }));
};

/** Whether a piece could be opened again with this plan, unless it could not be without it already. */
const isKeepable = (piece: Piece, plan: Plan): boolean =>
  beyondReach(withPlan(piece, plan)) === undefined || beyondReach(piece) !== undefined;

const NOT_KEPT: Problem = {
  kind: 'out-of-range',
  what: 'The piece would become longer, or have more notes, than can be kept.',
  kept: 'Nothing was changed.',
  next: 'Choose a smaller number, or take something away first.',
};

const NOTHING_TO_GROW: Problem = {
  kind: 'bad-request',
  what: 'There is no idea here to grow yet.',
  kept: 'Nothing was changed.',
  next: 'Catch an idea in Play first.',
};

/** Tries the step again that found its position occupied. */
export const tryAnyway: Command<[onConflict: OnConflict]> = (desk, onConflict) => {
  const { conflict } = desk.live;
  return conflict === undefined ? ok(desk) : tryStep(desk, conflict.name, conflict.step, onConflict);
};

/** Keeps what is being tried, as one undoable step. */
export const keepTrial: Command = desk => {
  const { trial } = desk.live;
  if (trial === undefined) return ok(desk);
  const chosen = withSession(withLive(desk, NOTHING_TRIED), {
    selectedStatement: trial.statement,
    selectedPlanNote: undefined,
  });
  return step(chosen, trial.name, old => withPlan(old, trial.plan));
};

/** Leaves what is being tried; the page is as it was. */
export const leaveTrial: Command = desk => ok(left(desk));

const left = (desk: DeskState): DeskState => {
  const { trial, conflict, refused } = desk.live;
  return trial === undefined && conflict === undefined && refused === undefined
    ? desk
    : withLive(desk, NOTHING_TRIED);
};

/** Changes the plan in one undoable step. */
export const changePlan: Command<[name: string, change: (plan: Plan) => Plan]> = (desk, name, change) =>
  step(left(desk), name, old => {
    const plan = planOf(old);
    const next = change(plan);
    return next === plan ? old : withPlan(old, next);
  });

/** Does one step at once and keeps it; a problem is said. */
export const growNow: Command<[name: string, made: Growth, onConflict?: OnConflict]> = (
  desk,
  name,
  made,
  onConflict,
) => {
  const tried = tryStep(desk, name, made, onConflict);
  return tried.ok && tried.value.live.trial !== undefined ? keepTrial(tried.value) : tried;
};
