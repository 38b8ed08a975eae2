import { add, atMost, divide, type Fraction, larger, less, subtract, ZERO } from '../foundation/fraction.ts';
import { barLength, beatLengths, beatStarts, type Metre } from '../foundation/metre.ts';
import { failed, ok, type Problem, type Result } from '../foundation/result.ts';
import type { BarIndex, BarNumber, Bpm } from '../foundation/units.ts';
import { type Motif, upbeatOf } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import { passageOf, type Statement, statementEnd, statementStart } from './statement.ts';

export interface Part {
  readonly id: string;
  readonly instrument: InstrumentId;
  /** A name of its own; absent where the instrument's will do. */
  readonly name?: string;
  /** Loudness against the other parts, in dB, -24 to +6; absent for 0. */
  readonly balance?: number;
}

/** What the pupil built from the motif: parts, statements, tempo and letters. The score is derived from it. */
export interface Plan {
  readonly parts: readonly Part[];
  readonly statements: readonly Statement[];
  /** Tactus beats a minute. */
  readonly tempo: Bpm;
  /** New metronome marks from a bar (index from 0) on, in order. */
  readonly tempi?: readonly { readonly bar: BarIndex; readonly tempo: Bpm }[];
  /** Rehearsal letters by bar index, from 0. */
  readonly letters: readonly { readonly bar: BarIndex; readonly letter: string }[];
  /** For naming new statements; only ever grows. */
  readonly nextId: number;
}

export const MOST_PARTS = 4;

/**
 * The plan every piece starts from: the motif, once, on the instrument it was played on.
 * @example
 * firstPlan('marimba', 96).statements.length // => 1
 */
export const firstPlan = (instrument: InstrumentId, tempo: Bpm): Plan => ({
  parts: [{ id: 'p1', instrument }],
  statements: [{ id: 's1', part: 'p1', onset: ZERO, chain: [], times: 1 }],
  tempo,
  letters: [],
  nextId: 2,
});

/**
 * A statement by its id; undefined when it is gone.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * findStatement(plan, 's1') === plan.statements[0] // => true
 * findStatement(plan, 's9') // => undefined
 */
export const findStatement = (plan: Plan, id: string): Statement | undefined =>
  plan.statements.find(s => s.id === id);

/**
 * Statements of one part in order of entry.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * statementsOf(plan, 'p1') // => plan.statements
 */
export const statementsOf = (plan: Plan, part: string): readonly Statement[] =>
  plan.statements.filter(s => s.part === part).sort((a, b) => a.onset.n * b.onset.d - b.onset.n * a.onset.d);

/**
 * Where the last statement ends, in semibreves.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * planEnd(idea, plan) // => fraction(1)
 */
export const planEnd = (motif: Motif, plan: Plan): Fraction =>
  plan.statements.reduce((end, s) => larger(end, statementEnd(motif, s)), ZERO);

/**
 * The place of a beat: bars and beats counted from 1, as musicians do.
 * @example
 * positionOf(metre(4, 4), 2, 3) // => fraction(3, 2)
 */
export const positionOf = (m: Metre, bar: BarNumber, beat: number): Fraction => {
  const length = barLength(m);
  const within = beatStarts(m)[beat - 1] ?? ZERO;
  return add({ n: length.n * (bar - 1), d: length.d }, within);
};

/**
 * A place told as bar and beat, from 1; the beat that holds it.
 * @example
 * barAndBeat(metre(6, 8), fraction(9, 8)) // => { bar: 2, beat: 2 }
 */
export const barAndBeat = (m: Metre, at: Fraction): { bar: BarNumber; beat: number } => {
  const length = barLength(m);
  const bars = divide(at, length);
  const bar = Math.floor(bars.n / bars.d);
  const inside = subtract(at, { n: length.n * bar, d: length.d });
  const beat = beatStarts(m).filter(start => atMost(start, inside)).length;
  return { bar: bar + 1, beat };
};

/**
 * A number of beats after a place, through bars of unequal beats too. Whole beats, zero or more.
 * @example
 * beatsLater(metre(5, 8), ZERO, 1) // => fraction(3, 8)
 */
export const beatsLater = (m: Metre, at: Fraction, beats: number): Fraction => {
  const lengths = beatLengths(m);
  const { beat } = barAndBeat(m, at);
  let place = at;
  for (let i = 0; i < beats; i++) place = add(place, lengths[(beat - 1 + i) % lengths.length] ?? ZERO);
  return place;
};

/**
 * A number of beats before or after a place; before the first barline where it is moved too far back.
 * @example
 * beatsAway(metre(5, 8), ZERO, -1) // => fraction(-1, 4)
 */
export const beatsAway = (m: Metre, at: Fraction, beats: number): Fraction => {
  if (beats >= 0) return beatsLater(m, at, beats);
  const lengths = beatLengths(m);
  let { beat } = barAndBeat(m, at);
  let place = at;
  for (let i = 0; i > beats; i--) {
    beat = beat === 1 ? lengths.length : beat - 1;
    place = subtract(place, lengths[beat - 1] ?? ZERO);
  }
  return place;
};

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
 * Adds a part; at most four, each instrument as often as wished.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * const added = addPart(plan, 'marimba');
 * added.ok && added.value.part // => 'p2'
 */
export const addPart = (plan: Plan, instrument: InstrumentId): Result<{ plan: Plan; part: string }> => {
  if (plan.parts.length >= MOST_PARTS) {
    return failed({
      kind: 'conflict',
      what: 'A piece has four parts at the most.',
      kept: 'Nothing was changed.',
      next: 'Put this into one of the parts that are there.',
    });
  }
  const id = `p${String(plan.nextId)}`;
  return ok({
    part: id,
    plan: { ...plan, parts: [...plan.parts, { id, instrument }], nextId: plan.nextId + 1 },
  });
};

/**
 * What a statement names that the plan does not have: its part, or the statement it follows ('not-found');
 * undefined where it has both.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * lackOf(plan, { ...plan.statements[0], part: 'p9' })?.kind // => 'not-found'
 */
export const lackOf = (plan: Plan, statement: Statement): Problem | undefined => {
  if (!plan.parts.some(p => p.id === statement.part)) return gonePart();
  const { leader } = statement;
  return leader === undefined || (leader !== statement.id && findStatement(plan, leader) !== undefined)
    ? undefined
    : gone();
};

/**
 * The plan with no statement tied to a leader that is gone: such a one stands on its own.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * const tied = { ...plan, statements: plan.statements.map(s => ({ ...s, leader: 's9' })) };
 * freed(tied) // => plan
 */
export const freed = (plan: Plan): Plan => {
  const there = new Set(plan.statements.map(s => s.id));
  const tied = (s: Statement): boolean => s.leader !== undefined && !there.has(s.leader);
  if (!plan.statements.some(tied)) return plan;
  return {
    ...plan,
    statements: plan.statements.map(s => {
      if (!tied(s)) return s;
      const { leader: _, ...free } = s;
      return free;
    }),
  };
};

/** Adds a statement where there is room; otherwise says what stands there, or what it names that is gone. */
export const addStatement = (
  motif: Motif,
  plan: Plan,
  statement: Omit<Statement, 'id'>,
): Result<{ plan: Plan; id: string }> => {
  const id = `s${String(plan.nextId)}`;
  const made: Statement = { ...statement, id };
  const lacking = lackOf(plan, made);
  if (lacking !== undefined) return failed(lacking);
  const other = standingIn(motif, plan, made);
  if (other !== undefined) return failed(conflict(motif, plan, other));
  return ok({
    id,
    plan: { ...plan, statements: [...plan.statements, made], nextId: plan.nextId + 1 },
  });
};

/** Changes one statement, where the changed one still has room. */
export const changeStatement = (
  motif: Motif,
  plan: Plan,
  id: string,
  change: Partial<Omit<Statement, 'id'>>,
): Result<Plan> => {
  const old = findStatement(plan, id);
  if (old === undefined) return failed(gone());
  const changed: Statement = { ...old, ...change };
  const lacking = lackOf(plan, changed);
  if (lacking !== undefined) return failed(lacking);
  const other = standingIn(motif, plan, changed);
  if (other !== undefined) return failed(conflict(motif, plan, other));
  return ok({ ...plan, statements: plan.statements.map(s => (s.id === id ? changed : s)) });
};

/**
 * Takes one statement away; what followed it stays, no longer tied to a leader.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * removeStatement(plan, 's1').statements // => []
 */
export const removeStatement = (plan: Plan, id: string): Plan =>
  freed({ ...plan, statements: plan.statements.filter(s => s.id !== id) });

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

/** A part that is not in the plan ('not-found'). */
const gonePart = (): Problem => ({
  kind: 'not-found',
  what: 'That part is no longer in the piece.',
  kept: 'Nothing was changed.',
  next: 'Choose another part.',
});

const gone = (): Problem => ({
  kind: 'not-found',
  what: 'That statement is no longer in the piece.',
  kept: 'Nothing was changed.',
  next: 'Choose a bracket on the page and try again.',
});

const conflict = (
  motif: Motif,
  plan: Plan,
  other: Statement,
): { kind: 'conflict'; what: string; kept: string; next: string } => {
  const instrument = plan.parts.find(p => p.id === other.part)?.instrument;
  const name = instrument === undefined ? 'part' : INSTRUMENTS[instrument].name.toLowerCase();
  const from = barAndBeat(motif.metre, statementStart(motif, other));
  const free = barAndBeat(motif.metre, statementEnd(motif, other));
  return {
    kind: 'conflict',
    what: `The ${name} already plays from bar ${String(from.bar)}, beat ${String(from.beat)}.`,
    kept: 'Nothing was changed.',
    next: `It is free from bar ${String(free.bar)}, beat ${String(free.beat)}; or choose another part.`,
  };
};
