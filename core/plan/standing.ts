import { divide, type Fraction, less, subtract } from '../foundation/fraction.ts';
import type { Problem } from '../foundation/result.ts';
import { INSTRUMENTS } from '../instruments/instruments.ts';
import { type Motif, upbeatOf } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { barAndBeat } from './beats.ts';
import { barringIn } from './keys.ts';
import type { Plan } from './plan.ts';
import { passageOf, type Statement, statementEnd, statementStart } from './statement.ts';

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
  const end = statementEnd(motif, candidate);
  return plan.statements.find(
    s =>
      s.part === candidate.part &&
      s.id !== candidate.id &&
      !except.includes(s.id) &&
      less(statementStart(motif, s), end) &&
      less(start, statementEnd(motif, s)),
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

/** Says which part plays already, from where, and from where it is free ('conflict'). */
export const alreadyPlaying = (motif: Motif, plan: Plan, other: Statement): Problem => {
  const instrument = plan.parts.find(p => p.id === other.part)?.instrument;
  const name = instrument === undefined ? 'part' : INSTRUMENTS[instrument].name.toLowerCase();
  const from = barAndBeat(barringIn(motif, plan), statementStart(motif, other));
  const free = barAndBeat(barringIn(motif, plan), statementEnd(motif, other));
  return {
    kind: 'conflict',
    what: `The ${name} already plays from bar ${String(from.bar)}, beat ${String(from.beat)}.`,
    kept: 'Nothing was changed.',
    next: `It is free from bar ${String(free.bar)}, beat ${String(free.beat)}; or choose another part.`,
  };
};
