import { fraction } from '../../../core/foundation/fraction.ts';
import { failed, ok, type Problem } from '../../../core/foundation/result.ts';
import { grow } from '../../../core/growing/grow.ts';
import type { Growth, OnConflict } from '../../../core/growing/growth.ts';
import { nearestSpeed } from '../../../core/growing/nearestSpeed.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { motifOf, pieceScore, planOf } from '../../../core/piece/piece.ts';
import { isReadable, isWrittenExactly } from '../../../core/score/writable.ts';
import type { Command } from '../command.ts';
import { type DeskState, withLive, withSession } from '../state.ts';
import { step } from './step.ts';

const FACTORS = [fraction(3, 2), fraction(2), fraction(3), fraction(4)];
const FACTOR_WORDS = ['one and a half times', 'two times', 'three times', 'four times'];

/** What cannot be read is refused, with the nearest speed that can be where there is one. */
const tooFine = (offer: ReturnType<typeof nearestSpeed>): Problem => {
  const word = offer === undefined ? undefined : FACTOR_WORDS[FACTORS.indexOf(offer.factor)];
  const speed = offer?.kind === 'augment' ? 'slower' : 'faster';
  return {
    kind: 'out-of-range',
    what: 'Some notes would become too short, or too uneven, to be written.',
    kept: 'Nothing was changed.',
    next:
      word === undefined
        ? 'Choose a smaller number, or leave one of the changes out.'
        : `Choose “${word}” ${speed}: that can be read.`,
  };
};

/**
 * Tries one step on the page without keeping it. Where its position is occupied nothing is shown, the
 * problem is said, and the step is remembered so that it can be tried again with a choice.
 */
export const tryStep: Command<[name: string, made: Growth, onConflict?: OnConflict]> = (
  desk,
  name,
  made,
  onConflict,
) => {
  const piece = desk.document.history?.present.piece;
  if (piece === undefined) return failed(NOTHING_TO_GROW);
  const result = grow(motifOf(piece), planOf(piece), made, onConflict);
  if (!result.ok) {
    const canChoose =
      result.problem.kind === 'conflict' && !['section', 'exchange', 'metre'].includes(made.kind);
    const conflict = canChoose && onConflict === undefined ? { name, step: made } : undefined;
    return ok(withLive(desk, { trial: undefined, conflict, problem: result.problem }));
  }
  const { plan, statement } = result.value;
  const written = (tried: Plan): boolean => {
    const score = pieceScore(piece, tried);
    return isWrittenExactly(score) && isReadable(score);
  };
  // A page that was inexact before, because the motif was changed under it, is no reason to refuse.
  if (!written(plan) && written(planOf(piece))) {
    const works = (other: Growth): boolean => {
      const grown = grow(motifOf(piece), planOf(piece), other, onConflict);
      return grown.ok && written(grown.value.plan);
    };
    const problem = tooFine(nearestSpeed(made, FACTORS, works));
    return ok(withLive(desk, { trial: undefined, conflict: undefined, problem }));
  }
  return ok(withLive(desk, { trial: { name, plan, statement }, conflict: undefined, problem: undefined }));
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
  const chosen = withSession(withLive(desk, { trial: undefined }), {
    selectedStatement: trial.statement,
    selectedPlanNote: undefined,
  });
  return step(chosen, trial.name, old => ({ ...old, plan: trial.plan }));
};

/** Leaves what is being tried; the page is as it was. */
export const leaveTrial: Command = desk => ok(left(desk));

const left = (desk: DeskState): DeskState => {
  const { trial, conflict } = desk.live;
  return trial === undefined && conflict === undefined
    ? desk
    : withLive(desk, { trial: undefined, conflict: undefined });
};

/** Changes the plan in one undoable step. */
export const changePlan: Command<[name: string, change: (plan: Plan) => Plan]> = (desk, name, change) =>
  step(left(desk), name, old => {
    const plan = planOf(old);
    const next = change(plan);
    return next === plan ? old : { ...old, plan: next };
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
