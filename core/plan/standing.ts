import {
  add,
  compare,
  divide,
  type Fraction,
  larger,
  less,
  smaller,
  subtract,
  ZERO,
} from '../foundation/fraction.ts';
import { barStart, barsUpTo, isBarline } from '../foundation/barring.ts';
import { barLength } from '../foundation/metre.ts';
import type { Problem } from '../foundation/result.ts';
import { INSTRUMENTS } from '../instruments/instruments.ts';
import { type Motif, soundingEnd, upbeatOf } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { barAndBeat } from './beats.ts';
import { barringIn } from './keys.ts';
import { findStatement, type Plan } from './plan.ts';
import { onsetAfter, passageOf, type Statement, statementEnd, statementStart } from './statement.ts';

/** Whether a statement answers one of another part. */
const answersAnother = (plan: Plan, statement: Statement): boolean => {
  const leader = statement.leader === undefined ? undefined : findStatement(plan, statement.leader);
  return leader !== undefined && leader.part !== statement.part;
};

/** Where the last note of a statement ends. A figure fills its bars. */
const heardUntil = (motif: Motif, statement: Statement): Fraction => {
  if (statement.accompaniment !== undefined) return statementEnd(motif, statement);
  const passage = passageOf(motif, statement);
  return add(subtract(onsetAfter(motif, statement), passage.length), soundingEnd(passage));
};

/** Whether the idea a statement is made of ends with bars of its own in which nothing sounds. */
const endsInSilence = (motif: Motif, statement: Statement): boolean => {
  const { detached: _, ...plain } = { ...statement, chain: [], times: 1 };
  const silent = subtract(statementEnd(motif, plain), heardUntil(motif, plain));
  return !less(silent, barLength(motif.metre));
};

/**
 * Up to where a statement needs its part, in semibreves. Not part of the piece (common practice, no source) are: the
 * silence in which an idea only waits for its next upbeat, that with which a part ends that answers another, and bars
 * that are silent only because the last bar of the idea was stretched, divided anew, or has just begun.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * busyUntil(idea, plan, plan.statements[0]) // => fraction(1)
 */
export const busyUntil = (motif: Motif, plan: Plan, statement: Statement): Fraction => {
  const heard = heardUntil(motif, statement);
  if (upbeatOf(passageOf(motif, statement)).n > 0 || answersAnother(plan, statement)) return heard;
  const end = statementEnd(motif, statement);
  const barring = barringIn(motif, plan);
  if (isBarline(barring, end) && endsInSilence(motif, statement)) return end;
  return smaller(end, barStart(barring, barsUpTo(barring, heard)));
};

/**
 * Where the music of a plan ends, in semibreves from the first barline; zero where there is none.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * playedEnd(idea, firstPlan('xylophone', 90)) // => fraction(1)
 */
export const playedEnd = (motif: Motif, plan: Plan): Fraction =>
  plan.statements.reduce((end, s) => larger(end, busyUntil(motif, plan, s)), ZERO);

/**
 * The statement already standing in a part where a new one would sound; undefined when there is room.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * standingIn(idea, plan, { ...plan.statements[0], id: 's2' })?.id // => 's1'
 */
export const standingIn = (
  motif: Motif,
  plan: Plan,
  candidate: Statement,
  except: readonly string[] = [],
): Statement | undefined => {
  const start = statementStart(motif, candidate);
  const end = busyUntil(motif, plan, candidate);
  return plan.statements.find(
    s =>
      s.part === candidate.part &&
      s.id !== candidate.id &&
      !except.includes(s.id) &&
      less(statementStart(motif, s), end) &&
      less(start, busyUntil(motif, plan, s)),
  );
};

/**
 * How many times a statement must be made to fill up to `end`; at least once.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * timesToFill(idea, [], fraction(1), fraction(4)) // => 3
 */
export const timesToFill = (
  motif: Motif,
  chain: readonly Treatment[],
  at: Fraction,
  end: Fraction,
): number => {
  const passage = passageOf(motif, { id: '', part: '', onset: at, chain, times: 1 });
  const start = subtract(at, upbeatOf(passage));
  if (passage.length.n <= 0 || !less(start, end)) return 1;
  const fits = divide(subtract(end, start), passage.length);
  return Math.max(1, Math.floor(fits.n / fits.d));
};

/** From where the part of a statement is free: what follows straight on is in the way, too. */
const freeFrom = (motif: Motif, plan: Plan, other: Statement): Fraction =>
  plan.statements
    .filter(s => s.part === other.part)
    .map(s => ({ start: statementStart(motif, s), end: busyUntil(motif, plan, s) }))
    .sort((a, b) => compare(a.start, b.start))
    .reduce(
      (until, { start, end }) => (less(until, start) ? until : larger(until, end)),
      busyUntil(motif, plan, other),
    );

/** Says which part plays already, from where, and from where it is free ('conflict'). */
export const alreadyPlaying = (motif: Motif, plan: Plan, other: Statement): Problem => {
  const instrument = plan.parts.find(p => p.id === other.part)?.instrument;
  const name = instrument === undefined ? 'part' : INSTRUMENTS[instrument].name.toLowerCase();
  const from = barAndBeat(barringIn(motif, plan), statementStart(motif, other));
  const free = barAndBeat(barringIn(motif, plan), freeFrom(motif, plan, other));
  return {
    kind: 'conflict',
    what: `The ${name} already plays from bar ${String(from.bar)}, beat ${String(from.beat)}.`,
    kept: 'Nothing was changed.',
    next: `It is free from bar ${String(free.bar)}, beat ${String(free.beat)}; or choose another part.`,
  };
};
