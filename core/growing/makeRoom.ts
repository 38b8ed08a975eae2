import { barsUpTo, metreOfBar } from '../foundation/barring.ts';
import { add, atMost, ceil, divide, type Fraction, less, subtract, times } from '../foundation/fraction.ts';
import { barLength } from '../foundation/metre.ts';
import type { BarIndex } from '../foundation/units.ts';
import type { Motif } from '../motif/motif.ts';
import { barringIn } from '../plan/keys.ts';
import type { Plan } from '../plan/plan.ts';
import { busyUntil } from '../plan/standing.ts';
import { type Statement, statementStart } from '../plan/statement.ts';

/** A plan in which everything from a place on, in all parts, comes so many bars later. */
const laterFrom = (motif: Motif, plan: Plan, from: Fraction, bars: number): Plan => {
  const barring = barringIn(motif, plan);
  const bar = barsUpTo(barring, from);
  const by = times(barLength(metreOfBar(barring, Math.max(0, bar - 1)).metre), bars);
  const moved = <T extends { readonly bar: BarIndex }>(one: T): T =>
    one.bar < bar ? one : { ...one, bar: one.bar + bars };
  const { tempi, keys, metres, pauses } = plan;
  return {
    ...plan,
    statements: plan.statements.map(s => (less(s.onset, from) ? s : { ...s, onset: add(s.onset, by) })),
    letters: plan.letters.map(moved),
    ...(tempi === undefined ? {} : { tempi: tempi.map(moved) }),
    ...(keys === undefined ? {} : { keys: keys.map(moved) }),
    ...(metres === undefined ? {} : { metres: metres.map(moved) }),
    ...(pauses === undefined ? {} : { pauses: pauses.map(moved) }),
  };
};

/**
 * A plan with a statement that has become longer where it stands: what its part plays after it waits, whole bars, and
 * everything that begins then or later in the other parts, with its letters, tempi, keys and metres, waits with it.
 * @param wanted the statement as it is now, by its id
 */
export const makeRoom = (motif: Motif, plan: Plan, wanted: Statement): Plan => {
  const changed: Plan = { ...plan, statements: plan.statements.map(s => (s.id === wanted.id ? wanted : s)) };
  const barring = barringIn(motif, changed);
  const own = changed.statements.filter(s => s.part === wanted.part && s.id !== wanted.id);
  const end = busyUntil(motif, changed, wanted);
  const [next] = own
    .filter(s => less(wanted.onset, s.onset))
    .sort((a, b) => (less(a.onset, b.onset) ? -1 : 1));
  if (next === undefined || atMost(end, statementStart(motif, next))) return changed;
  const bar = barsUpTo(barring, next.onset);
  const length = barLength(metreOfBar(barring, Math.max(0, bar - 1)).metre);
  return laterFrom(
    motif,
    changed,
    next.onset,
    ceil(divide(subtract(end, statementStart(motif, next)), length)),
  );
};
