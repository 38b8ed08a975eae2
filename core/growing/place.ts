import {
  add as addLengths,
  atMost,
  type Fraction,
  less,
  negate,
  subtract,
  ZERO,
} from '../foundation/fraction.ts';
import { barLength } from '../foundation/metre.ts';
import { failed, ok } from '../foundation/result.ts';
import type { Motif } from '../motif/motif.ts';
import { addStatement, changeStatement } from '../plan/change.ts';
import { freed, goneStatement, lackOf } from '../plan/lacks.ts';
import { findStatement, type Plan } from '../plan/plan.ts';
import { alreadyPlaying, standingIn } from '../plan/standing.ts';
import { type Statement, statementLength, statementStart } from '../plan/statement.ts';
import type { Grown, OnConflict } from './growth.ts';
import { makeRoom } from './makeRoom.ts';
import { noBarBefore, outOfRange } from './refusals.ts';
import { MOST_BARS } from './sectionProblems.ts';
import { lastBar } from './sections.ts';
import { clearBetween, firstFree } from './split.ts';

interface Extent {
  readonly start: Fraction;
  readonly length: Fraction;
  readonly upbeat: Fraction;
}

/** Where a statement begins to sound, how long it lasts, and how long it sounds before its first barline. */
const extentOf = (motif: Motif, statement: Statement): Extent => {
  const start = statementStart(motif, statement);
  return { start, length: statementLength(motif, statement), upbeat: subtract(statement.onset, start) };
};

/** Whether something begins a bar or more before the first barline: an upbeat is shorter than a bar. */
const tooEarly = (motif: Motif, start: Fraction): boolean => atMost(start, negate(barLength(motif.metre)));

/** A new statement where it is wanted, or as the choice says where something is played there already. */
export const place = (
  motif: Motif,
  plan: Plan,
  wanted: Omit<Statement, 'id'>,
  onConflict: OnConflict | undefined,
): Grown => {
  const { length, start, upbeat } = extentOf(motif, { ...wanted, id: '' });
  if (tooEarly(motif, start)) return failed(noBarBefore());
  const from = onConflict === 'postpone' ? firstFree(motif, plan, wanted.part, start, length) : start;
  const at = addLengths(from, upbeat);
  const room =
    onConflict === 'cut' ? clearBetween(motif, plan, wanted.part, from, addLengths(from, length)) : plan;
  // What it follows may just have been cut away: then it stands on its own.
  const { leader, ...alone } = wanted;
  const led = leader !== undefined && findStatement(room, leader) !== undefined ? { leader } : {};
  const added = addStatement(motif, room, { ...alone, ...led, onset: at });
  return added.ok ? ok({ plan: added.value.plan, statement: added.value.id }) : added;
};

/** A statement changed in place; the rest of its part gives way or it waits, as the choice says. */
export const replace = (
  motif: Motif,
  plan: Plan,
  id: string,
  change: Partial<Omit<Statement, 'id'>>,
  onConflict: OnConflict | undefined,
): Grown => {
  const old = findStatement(plan, id);
  if (old === undefined) return failed(goneStatement());
  const wanted: Statement = { ...old, ...change };
  if (less(wanted.onset, ZERO)) return failed(outOfRange('a position from bar 1 on'));
  const { length, start, upbeat } = extentOf(motif, wanted);
  if (tooEarly(motif, start)) return failed(noBarBefore());
  if (onConflict === undefined) {
    const changed = changeStatement(motif, plan, id, change);
    return changed.ok ? ok({ plan: changed.value, statement: id }) : changed;
  }
  const lacking = lackOf(plan, wanted);
  if (lacking !== undefined) return failed(lacking);
  if (onConflict === 'postpone' && change.onset === undefined && change.part === undefined) {
    const room = makeRoom(motif, plan, wanted);
    if (lastBar(motif, room) > MOST_BARS) return failed(outOfRange(`at most ${String(MOST_BARS)} bars`));
    // What plays before it may be in the way of its upbeat.
    const before = standingIn(motif, room, wanted);
    return before === undefined
      ? ok({ plan: room, statement: id })
      : failed(alreadyPlaying(motif, room, before));
  }
  const others: Plan = { ...plan, statements: plan.statements.filter(s => s.id !== id) };
  const from = onConflict === 'postpone' ? firstFree(motif, others, wanted.part, start, length) : start;
  const at = addLengths(from, upbeat);
  const room =
    onConflict === 'cut' ? clearBetween(motif, others, wanted.part, from, addLengths(from, length)) : others;
  const follows = new Set(plan.statements.filter(s => s.leader === id).map(s => s.id));
  return ok({
    statement: id,
    plan: freed({
      ...room,
      statements: [
        ...room.statements.map(s => (follows.has(s.id) ? { ...s, leader: id } : s)),
        { ...wanted, onset: at },
      ],
    }),
  });
};
