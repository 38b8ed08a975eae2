import {
  barringOf,
  barStart,
  barsUpTo,
  type MetresInForce,
  type MetreChange,
  metreOfBar,
} from '../foundation/barring.ts';
import {
  add,
  atMost,
  compare,
  divide,
  type Fraction,
  less,
  subtract,
  times,
  ZERO,
} from '../foundation/fraction.ts';
import { barLength, beatLengths, type Metre, metreInWords, sameMetre } from '../foundation/metre.ts';
import { failed, ok, type Problem, type Result } from '../foundation/result.ts';
import type { BarIndex, BarNumber } from '../foundation/units.ts';
import type { Motif } from '../motif/motif.ts';
import { barringIn, type Changes } from '../plan/keys.ts';
import { afterThe, partName } from '../plan/partList.ts';
import type { Pause, Plan } from '../plan/plan.ts';
import { inBeatsOf } from '../plan/tempi.ts';
import { type Statement, statementEnd, statementStart } from '../plan/statement.ts';
import { outOfRange } from './refusals.ts';
import { letteredAt } from './letters.ts';
import { MOST_BARS } from './sectionProblems.ts';
import { lastBar } from './sections.ts';

/**
 * A plan with another metre from a bar (from 1) on, and a rehearsal letter there. Notes keep their written values and are
 * barred anew; whatever is bound to a later bar (letters, tempi, keys, other metres) stays with its music, and where
 * that would no longer begin on a barline it waits for the next one: a pause, which goes when the change goes. Metronome
 * marks are told in the new beats, as fast as before. The metre that holds there anyway takes away the change that was
 * at this bar.
 *
 * Problems: 'out-of-range' for a bar in which nothing sounds, the first one, a metre that begins there already, and a piece or a tempo beyond what can be
 * written; 'conflict' where a statement sounds across a letter that would have to wait.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(4), notes: [] };
 * const changed = changeMetre(idea, firstPlan('xylophone', 90), 3, metre(3, 4));
 * changed.ok && changed.value.metres // => [{ bar: 2, metre: metre(3, 4) }]
 * changed.ok && changed.value.letters // => [{ bar: 2, letter: 'A' }]
 * changeMetre(idea, firstPlan('xylophone', 90), 1, metre(3, 4)).ok // => false
 */
export const changeMetre = (motif: Motif, plan: Plan, bar: BarNumber, to: Metre): Result<Plan> => {
  const last = lastBar(motif, plan);
  if (last < 2) return failed(outOfRange('it when the piece has two bars or more'));
  if (!Number.isInteger(bar) || bar < 2 || bar > last)
    return failed(outOfRange(`a bar from 2 to ${String(last)}`));
  if (!keepsPairs(motif, to)) return failed(noPairs(to));
  const index: BarIndex = bar - 1;
  if (plan.metres?.some(m => m.bar === index && sameMetre(m.metre, to)) === true)
    return failed(isThereAlready(to));
  const others = (plan.metres ?? []).filter(m => m.bar !== index);
  const barred = barredAnew(motif, plan, [...others, { bar: index, metre: to }], to);
  if (!barred.ok) return barred;
  // The bar itself stays where it is: what comes before it does not move.
  const isThere = barred.value.metres?.some(m => m.bar === index) === true;
  if (!isThere || barred.value.letters.some(l => l.bar === index)) return barred;
  return ok({ ...barred.value, letters: letteredAt([...barred.value.letters.map(l => l.bar + 1), bar]) });
};

const isThereAlready = (to: Metre): Problem => ({
  kind: 'out-of-range',
  what: `${metreInWords(to)} begins there already.`,
  kept: 'Nothing was changed.',
  next: 'Choose another metre, or take the change away.',
});

/** Whether swung pairs fall in with the beats and bars of a metre. */
const keepsPairs = ({ swing }: Pick<Motif, 'swing'>, m: Metre): boolean =>
  swing === undefined ||
  swing.ratio === 1 ||
  [...beatLengths(m), barLength(m)].every(length => divide(length, times(swing.unit, 2)).d === 1);

/**
 * Why a piece cannot be read as swung: a later metre does not divide into its pairs. Undefined where it can.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [], swing: { ratio: 2, unit: fraction(1, 8) } };
 * swingProblem(idea, { metres: [{ bar: 2, metre: metre(3, 4) }] }) // => undefined
 * swingProblem(idea, { metres: [{ bar: 2, metre: metre(6, 8) }] })?.kind // => 'out-of-range'
 */
export const swingProblem = (motif: Pick<Motif, 'swing'>, { metres = [] }: Changes): Problem | undefined => {
  const against = metres.find(one => !keepsPairs(motif, one.metre));
  return against === undefined
    ? undefined
    : {
        kind: 'out-of-range',
        what: `This would swing, and the beats of ${metreInWords(against.metre)} from bar ${String(against.bar + 1)} on do not divide into its pairs of notes.`,
        kept: 'Nothing was changed.',
        next: 'Take the other metre away in Grow first, or let the piece be played straight.',
      };
};

/** A place to which something is bound, before and after. */
interface Anchor {
  readonly before: BarIndex;
  readonly at: Fraction;
  readonly now: BarIndex;
  /** How much later it begins than before. */
  readonly shift: Fraction;
}

/** The bars to which something is bound, in order. */
const boundBars = (plan: Plan, metres: readonly MetreChange[]): readonly BarIndex[] => {
  const all = [
    ...plan.letters,
    ...(plan.keys ?? []),
    ...(plan.tempi ?? []),
    ...(plan.metres ?? []),
    ...(plan.pauses ?? []),
    ...metres,
  ];
  return [...new Set(all.map(one => one.bar).filter(bar => bar > 0))].sort((a, b) => a - b);
};

/** Whether what stands from a pause on may close up to what comes before it: nothing was put into the pause since. */
const mayClose = (
  motif: Motif,
  plan: Plan,
  pause: Pause,
  at: Fraction,
  bound: readonly Fraction[],
): boolean => {
  const from = subtract(at, pause.length);
  const isInside = (place: Fraction): boolean => atMost(from, place) && less(place, at);
  if (bound.some(isInside) || plan.statements.some(s => isInside(s.onset))) return false;
  return plan.parts.every(({ id }) => {
    const own = plan.statements.filter(s => s.part === id);
    const later = own.filter(s => atMost(at, s.onset)).map(s => statementStart(motif, s));
    const [first] = [...later].sort(compare);
    if (first === undefined) return true;
    return own
      .filter(s => less(s.onset, at))
      .every(s => atMost(add(statementEnd(motif, s), pause.length), first));
  });
};

/** Where everything that is bound to a bar goes, the pauses that takes, and the metres at their new bars. */
const rebound = (
  motif: Motif,
  plan: Plan,
  metres: readonly MetreChange[],
): {
  readonly anchors: readonly Anchor[];
  readonly pauses: readonly Pause[];
  readonly barring: MetresInForce;
} => {
  const before = barringIn(motif, plan);
  const bound = boundBars(plan, metres).map(bar => ({ bar, at: barStart(before, bar) }));
  const anchors: Anchor[] = [];
  const pauses: Pause[] = [];
  const changes: MetreChange[] = [];
  let barring = barringOf(motif.metre);
  let shift = ZERO;
  for (const { bar, at } of bound) {
    const pause = plan.pauses?.find(p => p.bar === bar);
    const places = bound.map(one => one.at);
    const closes = pause !== undefined && mayClose(motif, plan, pause, at, places) ? pause.length : ZERO;
    const place = subtract(add(at, shift), closes);
    const now: BarIndex = barsUpTo(barring, place);
    const start = barStart(barring, now);
    const opened = subtract(start, place);
    if (opened.n > 0) pauses.push({ bar: now, length: opened });
    shift = subtract(start, at);
    anchors.push({ before: bar, at, now, shift });
    const change = metres.filter(m => m.bar === bar).at(-1);
    if (change === undefined) continue;
    changes.push({ bar: now, metre: change.metre });
    barring = barringOf(motif.metre, changes);
  }
  return { anchors, pauses, barring };
};

/** The plan barred by other changes of metre, told by its present bars; `to` is the one asked for. */
const barredAnew = (motif: Motif, plan: Plan, metres: readonly MetreChange[], to: Metre): Result<Plan> => {
  const { anchors, pauses, barring } = rebound(motif, plan, metres);
  const anchorOf = (onset: Fraction): Anchor | undefined => anchors.filter(a => atMost(a.at, onset)).at(-1);
  let shift = ZERO;
  for (const anchor of anchors) {
    const wait = subtract(anchor.shift, shift);
    shift = anchor.shift;
    const crossing = plan.statements.find(
      s => wait.n > 0 && less(s.onset, anchor.at) && less(add(anchor.at, wait), statementEnd(motif, s)),
    );
    if (crossing !== undefined) return failed(acrossLetter(plan, crossing, anchor.before, to));
  }
  const newBar = new Map(anchors.map(a => [a.before, a.now]));
  const moved = <T extends { readonly bar: BarIndex }>(one: T): T => ({
    ...one,
    bar: newBar.get(one.bar) ?? one.bar,
  });
  const before = barringIn(motif, plan);
  const { metres: _, pauses: __, tempi, keys, ...rest } = plan;
  const told = tempi?.map(mark => {
    const at = moved(mark);
    const [was, is] = [metreOfBar(before, mark.bar).metre, metreOfBar(barring, at.bar).metre];
    return { ...at, tempo: inBeatsOf(mark.tempo, was, is) };
  });
  if (told?.some(({ tempo }) => tempo > FASTEST) === true) return failed(tooFast());
  const later = barring.slice(1).map(({ bar, metre }) => ({ bar, metre }));
  const now: Plan = {
    ...rest,
    statements: plan.statements.map(s => {
      const by = anchorOf(s.onset)?.shift ?? ZERO;
      const there = by.n === 0 ? s : { ...s, onset: add(s.onset, by) };
      return isLast(plan, s) ? lastingItsBar(there, motif, barring) : there;
    }),
    letters: plan.letters.map(moved),
    ...(told === undefined ? {} : { tempi: told }),
    ...(keys === undefined ? {} : { keys: keys.map(moved) }),
    ...(later.length === 0 ? {} : { metres: later }),
    ...(pauses.length === 0 ? {} : { pauses }),
  };
  if (lastBar(motif, now) > Math.max(MOST_BARS, lastBar(motif, plan))) return failed(tooManyBars(to));
  return ok(now);
};

/** An ending after which its part is silent, as it was made. */
const isLast = (plan: Plan, one: Statement): boolean =>
  one.accompaniment?.kind === 'ending' &&
  one.detached === undefined &&
  one.chain.every(t => t.kind !== 'augment' && t.kind !== 'diminish') &&
  plan.statements.every(s => s.part !== one.part || atMost(s.onset, one.onset));

/** A last long note lasts the bar it stands in, whatever metre that is in now. */
const lastingItsBar = (statement: Statement, motif: Motif, barring: MetresInForce): Statement => {
  if (statement.accompaniment === undefined) return statement;
  const { metre: _, ...what } = statement.accompaniment;
  const { metre } = barring.filter(m => atMost(m.from, statement.onset)).at(-1) ?? { metre: motif.metre };
  return {
    ...statement,
    accompaniment: sameMetre(metre, motif.metre) ? what : { ...what, metre },
  };
};

/** Fastest tempo that is written, in beats a minute (`Bpm`). */
const FASTEST = 999;

const acrossLetter = (plan: Plan, statement: Statement, bar: BarIndex, to: Metre): Problem => {
  const part = plan.parts.find(p => p.id === statement.part);
  const name = part === undefined ? 'a part' : `the ${afterThe(partName(plan, part))}`;
  const letter = plan.letters.find(l => l.bar === bar)?.letter;
  const there = letter === undefined ? `bar ${String(bar + 1)}` : `letter ${letter}`;
  return {
    kind: 'conflict',
    what: `In ${metreInWords(to)} ${there} would begin in the middle of a bar, and ${name} plays across it, so it cannot wait.`,
    kept: 'Nothing was changed.',
    next: `Let ${name} stop before ${there}, or take away what is marked there first.`,
  };
};

const noPairs = (m: Metre): Problem => ({
  kind: 'out-of-range',
  what: `This piece swings, and the beats of ${metreInWords(m)} do not divide into its pairs of notes.`,
  kept: 'Nothing was changed.',
  next: 'Choose a metre with beats that divide in two, or let the piece be played straight.',
});

const tooFast = (): Problem => ({
  kind: 'out-of-range',
  what: 'A tempo after that bar would be too fast to be written in the new beats.',
  kept: 'Nothing was changed.',
  next: 'Choose a slower tempo there first.',
});

const tooManyBars = (to: Metre): Problem => ({
  kind: 'out-of-range',
  what: `In ${metreInWords(to)} the piece would have more than ${String(MOST_BARS)} bars.`,
  kept: 'Nothing was changed.',
  next: 'Choose a metre with longer bars.',
});
