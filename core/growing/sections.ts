import type { BarNumber } from '../foundation/units.ts';
import { add, atMost, divide, type Fraction, larger, less, subtract, ZERO } from '../foundation/fraction.ts';
import { barringOf, barsUpTo, barStart, metreOfBar } from '../foundation/barring.ts';
import { failed, ok, type Problem, type Result } from '../foundation/result.ts';
import { type Motif, upbeatOf } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { barAndBeat } from '../plan/beats.ts';
import { barringIn } from '../plan/keys.ts';
import { lackOf } from '../plan/lacks.ts';
import type { Plan } from '../plan/plan.ts';
import { busyUntil, playedEnd } from '../plan/standing.ts';
import { letteredAt } from './letters.ts';
import { emptyBars, MOST_BARS, wrongBars } from './sectionProblems.ts';
import { between, splitAt } from './split.ts';
import {
  passageOf,
  type Statement,
  statementEnd,
  statementStart,
  treatedFurther,
} from '../plan/statement.ts';

/** Bars of a piece, counted from 1; `to` is the last one. */
export interface BarSpan {
  readonly from: BarNumber;
  readonly to: BarNumber;
}

/** A section copied: as it is, moved by steps, or with two parts exchanged. */
export interface SectionCopy extends BarSpan {
  /** The bar where the first copy begins, from 1. */
  readonly toBar: BarNumber;
  /** How many copies, one after the other; 1 or more. */
  readonly copies: number;
  /** Steps of the scale each copy is moved from the one before; 0 for none. */
  readonly steps: number;
  /** Two parts that trade what they play in the copies. */
  readonly exchange?: readonly [string, string];
  /** Whether the bar where it begins gets a rehearsal letter. */
  readonly letter: boolean;
}

/**
 * The last bar in which something sounds; at least 1.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * lastBar(idea, plan) // => 1
 */
export const lastBar = (motif: Motif, plan: Plan): BarNumber =>
  Math.max(1, barsUpTo(barringIn(motif, plan), playedEnd(motif, plan)));

/**
 * The first bar at which a section that begins at bar `from` can come again after all that sounds, its upbeat included.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * barAfter(idea, firstPlan('xylophone', 90), 1) // => 2
 */
export const barAfter = (motif: Motif, plan: Plan, from: BarNumber): BarNumber => {
  const barring = barringIn(motif, plan);
  const upbeat = upbeatAt(motif, plan, barStart(barring, from - 1));
  return 1 + Math.max(1, barsUpTo(barring, add(playedEnd(motif, plan), upbeat)));
};

/** The longest upbeat that leads to a barline; the idea's where nothing begins there. */
const upbeatAt = (motif: Motif, plan: Plan, barline: Fraction): Fraction => {
  const leading = plan.statements.flatMap(s => {
    const passage = passageOf(motif, s);
    if (passage.length.n <= 0) return [];
    const time = divide(subtract(barline, s.onset), passage.length);
    return time.d === 1 && time.n >= 0 && time.n < s.times ? [upbeatOf(passage)] : [];
  });
  return leading.length === 0 ? upbeatOf(motif) : leading.reduce(larger, ZERO);
};

/**
 * Sections by rehearsal letter, with the bars before the first letter where there are any.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * sectionsOf(idea, plan) // => [{ name: 'the opening', from: 1, to: 1 }]
 */
export const sectionsOf = (motif: Motif, plan: Plan): readonly (BarSpan & { readonly name: string })[] => {
  const last = lastBar(motif, plan);
  const starts = plan.letters.map(l => ({ bar: l.bar + 1, name: l.letter })).filter(l => l.bar <= last);
  const all = starts[0]?.bar === 1 ? starts : [{ bar: 1, name: 'the opening' }, ...starts];
  return all.map(({ bar, name }, i) => ({ name, from: bar, to: (all[i + 1]?.bar ?? last + 1) - 1 }));
};

/**
 * Where bars begin and end; each as much before its barline as the upbeat to it is long, for that belongs to them. No
 * upbeat follows the last bar: what is struck in its place is the bar's own.
 */
const stretch = (motif: Motif, plan: Plan, bars: BarSpan): { from: Fraction; to: Fraction } => {
  const barring = barringIn(motif, plan);
  const placeOf = (bar: BarNumber): Fraction => {
    const barline = barStart(barring, bar - 1);
    return subtract(barline, upbeatAt(motif, plan, barline));
  };
  const to = placeOf(bars.to + 1);
  const isLast = bars.to === lastBar(motif, plan);
  return { from: placeOf(bars.from), to: isLast ? larger(to, playedEnd(motif, plan)) : to };
};

const sounding = (motif: Motif, plan: Plan, from: Fraction, to: Fraction): readonly Statement[] =>
  plan.statements.filter(s => less(statementStart(motif, s), to) && less(from, busyUntil(motif, plan, s)));

/**
 * Copies a section: everything that sounds in its bars, in all parts, once or as a sequence. What runs
 * over its edges is copied as far as it lies inside. Fails, changing nothing, where the bars it would
 * go to are taken.
 */
export const copySection = (
  motif: Motif,
  plan: Plan,
  copy: SectionCopy,
): Result<{ plan: Plan; statement: string }> => {
  const { from, to } = stretch(motif, plan, copy);
  const bars = copy.to - copy.from + 1;
  if (bars < 1 || copy.copies < 1 || copy.toBar < 1 || copy.toBar + bars * copy.copies > MOST_BARS)
    return failed(wrongBars());
  const source = sounding(motif, plan, from, to);
  if (source.length === 0) return failed(emptyBars());
  const [template] = source;
  const strange = (copy.exchange ?? [])
    .map(part => (template === undefined ? undefined : lackOf(plan, { ...template, part })))
    .find(lacking => lacking !== undefined);
  if (strange !== undefined) return failed(strange);
  // After all that sounds a section brings its metre along; elsewhere it is barred as the bars are into which it goes.
  const room = copy.toBar >= barAfter(motif, plan, copy.from) ? withMetresOf(motif, plan, copy) : plan;
  const barring = barringIn(motif, room);
  const length = subtract(to, from);
  const upbeat = subtract(barStart(barringIn(motif, plan), copy.from - 1), from);
  const starts: Fraction[] = [];
  let at = barStart(barring, copy.toBar - 1);
  for (let k = 0; k < copy.copies; k++) {
    starts.push(subtract(at, upbeat));
    at = barStart(barring, barsUpTo(barring, add(at, length)));
  }
  const start = starts[0] ?? ZERO;
  const end = add(starts.at(-1) ?? ZERO, length);
  // What runs into the first bar of the copy from before gives way only if the teacher says so.
  const other = sounding(motif, plan, start, end)[0];
  if (other !== undefined) return failed(conflictAt(motif, plan, other, copy.from));

  let nextId = plan.nextId;
  const made: Statement[] = [];
  // What a copy goes on from, higher or lower: the statement itself, then the copy before it.
  const model = new Map<string, string>();
  for (let k = 0; k < copy.copies; k++) {
    const shift = subtract(starts[k] ?? start, from);
    const steps = copy.steps * (k + 1);
    const moved: readonly Treatment[] = steps === 0 ? [] : [{ kind: 'transpose', by: 'scale', steps }];
    const copies: Copied[] = [];
    for (const statement of source) {
      for (const [i, piece] of piecesIn(motif, plan, statement, from, to).entries()) {
        copies.push({ of: statement, piece, nth: `${statement.id}:${String(i)}`, id: `s${String(nextId)}` });
        nextId += 1;
      }
    }
    for (const copied of copies) {
      const { leader: _, ...rest } = copied.piece;
      const part = exchanged(rest.part, copy.exchange);
      const whole = sameChain(copied.piece, copied.of) && part === rest.part && steps !== 0;
      const goesOn = whole ? (model.get(copied.nth) ?? copied.of.id) : undefined;
      const leader = copiedLeader(copied, copies) ?? goesOn;
      made.push({
        ...rest,
        ...treatedFurther(motif, rest, moved),
        id: copied.id,
        part,
        onset: add(rest.onset, shift),
        ...(leader === undefined ? {} : { leader }),
      });
    }
    for (const { nth, id } of copies) model.set(nth, id);
  }
  const first = made[0]?.id ?? '';
  const bare = { ...room, statements: [...plan.statements, ...made], nextId };
  const lettered = copy.letter
    ? { ...bare, letters: letteredAt([...plan.letters.map(l => l.bar + 1), copy.toBar]) }
    : bare;
  return ok({ plan: lettered, statement: first });
};

/** A plan whose bars from a copy of a section on are in the metres of the section, copy after copy. */
const withMetresOf = (motif: Motif, plan: Plan, copy: SectionCopy): Plan => {
  const before = barringIn(motif, plan);
  if (before.length === 1) return plan;
  const bars = copy.to - copy.from + 1;
  const from = copy.toBar - 1;
  const to = from + bars * copy.copies;
  const own = Array.from({ length: bars * copy.copies }, (_, i) => ({
    bar: from + i,
    metre: metreOfBar(before, copy.from - 1 + (i % bars)).metre,
  }));
  const others = before.slice(1).filter(m => m.bar < from || m.bar >= to);
  const all = barringOf(motif.metre, [...others, ...own]).slice(1);
  const { metres: _, ...rest } = plan;
  return all.length === 0 ? rest : { ...rest, metres: all.map(({ bar, metre }) => ({ bar, metre })) };
};

/** What a statement sounds between two places; one whose silence alone goes on after that is whole. */
const piecesIn = (
  motif: Motif,
  plan: Plan,
  statement: Statement,
  from: Fraction,
  to: Fraction,
): ReturnType<typeof between> => {
  const end = statementEnd(motif, statement);
  const isHeard = less(to, end) && atMost(busyUntil(motif, plan, statement), to);
  return between(motif, statement, from, isHeard ? end : to);
};

/** A piece of a statement copied with its section, and the id its copy gets. */
interface Copied {
  readonly of: Statement;
  readonly piece: Omit<Statement, 'id'>;
  readonly nth: string;
  readonly id: string;
}

const sameChain = (a: Pick<Statement, 'chain'>, b: Pick<Statement, 'chain'>): boolean =>
  a.chain.length === b.chain.length;

/** In the same copy, what answers the leader: its last whole piece that begins no later. */
const copiedLeader = ({ piece }: Copied, copies: readonly Copied[]): string | undefined =>
  copies
    .filter(
      other =>
        other.of.id === piece.leader &&
        sameChain(other.piece, other.of) &&
        atMost(other.piece.onset, piece.onset),
    )
    .at(-1)?.id;

const exchanged = (part: string, pair: readonly [string, string] | undefined): string =>
  pair === undefined ? part : part === pair[0] ? pair[1] : part === pair[1] ? pair[0] : part;

/**
 * Part exchange: in these bars two parts trade what they play. Statements that run over the edges are
 * divided there.
 */
export const exchangeParts = (
  motif: Motif,
  plan: Plan,
  bars: BarSpan,
  pair: readonly [string, string],
): Result<{ plan: Plan; statement: string }> => {
  const { from, to: close } = stretch(motif, plan, bars);
  // The silence after the last bar goes along.
  const to =
    bars.to === lastBar(motif, plan)
      ? plan.statements.reduce((end, s) => larger(end, statementEnd(motif, s)), close)
      : close;
  const divided = splitAt(motif, splitAt(motif, plan, from, pair), to, pair);
  const inside = (s: Statement): boolean =>
    pair.includes(s.part) && atMost(from, statementStart(motif, s)) && atMost(statementEnd(motif, s), to);
  const first = divided.statements.find(inside);
  if (first === undefined || pair[0] === pair[1]) return failed(emptyBars());
  const strange = pair.map(part => lackOf(plan, { ...first, part })).find(lacking => lacking !== undefined);
  if (strange !== undefined) return failed(strange);
  return ok({
    statement: first.id,
    plan: {
      ...divided,
      statements: divided.statements.map(s => (inside(s) ? { ...s, part: exchanged(s.part, pair) } : s)),
    },
  });
};

/**
 * The bars a statement sounds in.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * barsOfStatement(idea, plan, plan.statements[0]) // => { from: 1, to: 1 }
 */
export const barsOfStatement = (motif: Motif, plan: Plan, statement: Statement): BarSpan => {
  const barring = barringIn(motif, plan);
  const from = barAndBeat(barring, statement.onset).bar;
  const { length } = passageOf(motif, statement);
  const last = barsUpTo(barring, busyUntil(motif, plan, statement));
  return { from, to: Math.max(from, length.n > 0 ? last : from) };
};

const conflictAt = (motif: Motif, plan: Plan, other: Statement, from: BarNumber): Problem => {
  const { bar, beat } = barAndBeat(barringIn(motif, plan), busyUntil(motif, plan, other));
  return {
    kind: 'conflict',
    what: `Something is played there already, until bar ${String(bar)}, beat ${String(beat)}.`,
    kept: 'Nothing was changed.',
    next: `Begin at bar ${String(barAfter(motif, plan, from))}, after everything else.`,
  };
};
