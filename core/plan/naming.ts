import { divide, equal, type Fraction, less, remainder, subtract, ZERO } from '../foundation/fraction.ts';
import { barLength, beatLengths, beatStarts } from '../foundation/metre.ts';
import { scaleSize } from '../foundation/key.ts';
import type { Motif } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { barAndBeat } from './beats.ts';
import { findStatement, type Plan } from './plan.ts';
import { type Statement, statementEnd, statementStart } from './statement.ts';

const COUNTS = [
  '',
  'once',
  'twice',
  'three times',
  'four times',
  'five times',
  'six times',
  'seven times',
  'eight times',
];
const NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];
const word = (k: number): string => NUMBERS[k] ?? String(k);
const plural = (k: number, noun: string): string => `${word(k)} ${noun}${k === 1 ? '' : 's'}`;

/**
 * One treatment in trade words.
 * @example
 * treatmentName({ kind: 'transpose', by: 'scale', steps: 2 }) // => 'up two steps'
 */
export const treatmentName = (t: Treatment): string => {
  switch (t.kind) {
    case 'transpose': {
      const noun = t.by === 'scale' ? 'step' : 'semitone';
      return `${t.steps < 0 ? 'down' : 'up'} ${plural(Math.abs(t.steps), noun)}`;
    }
    case 'octave':
      return `${t.octaves < 0 ? 'down' : 'up'} ${Math.abs(t.octaves) === 1 ? 'an octave' : plural(Math.abs(t.octaves), 'octave')}`;
    case 'augment':
      return `augmentation${factor(t.factor)}`;
    case 'diminish':
      return `diminution${factor(t.factor)}`;
    case 'invert':
      return t.by === 'scale' ? 'inversion' : 'real inversion';
    case 'retrograde':
      return 'retrograde';
    case 'fragment':
      return 'fragment';
  }
};

const factor = (f: { n: number; d: number }): string =>
  f.n === 2 && f.d === 1 ? '' : ` by ${f.d === 1 ? String(f.n) : `${String(f.n)}/${String(f.d)}`}`;

/** How far a chain moves pitch by whole scale steps, when moving is all it does; undefined otherwise. */
const stepsOnly = (motif: Motif, chain: readonly Treatment[]): number | undefined => {
  let steps = 0;
  for (const t of chain) {
    if (t.kind === 'octave') steps += t.octaves * scaleSize(motif.key);
    else if (t.kind === 'transpose' && t.by === 'scale') steps += t.steps;
    else return undefined;
  }
  return steps;
};

/** A chain told as what it does besides moving by steps, and by how many steps it moves. */
const apart = (motif: Motif, chain: readonly Treatment[]): { names: readonly string[]; by: number } => {
  const moves = (t: Treatment): boolean =>
    t.kind === 'octave' || (t.kind === 'transpose' && t.by === 'scale');
  return {
    names: chainNames(chain.filter(t => !moves(t))),
    by: stepsOnly(motif, chain.filter(moves)) ?? 0,
  };
};

/** Names of a chain; inversion and retrograde together have a name of their own. */
const chainNames = (chain: readonly Treatment[]): readonly string[] => {
  const tonalTurn = chain.findIndex(t => t.kind === 'invert' && t.by === 'scale');
  const back = chain.findIndex(t => t.kind === 'retrograde');
  if (tonalTurn < 0 || back < 0 || Math.abs(back - tonalTurn) !== 1) return chain.map(treatmentName);
  const first = Math.min(tonalTurn, back);
  return [
    ...chainNames(chain.slice(0, first)),
    'retrograde inversion',
    ...chainNames(chain.slice(first + 2)),
  ];
};

/**
 * What a statement adds to its leader's treatments; undefined where it does not state what the leader
 * states, because the leader was treated on its own since.
 */
const beyondLeader = (
  motif: Motif,
  statement: Statement,
  leader: Statement,
): readonly Treatment[] | undefined => {
  if (statement.motif !== leader.motif) return undefined;
  const differs = leader.chain.findIndex((t, i) => JSON.stringify(statement.chain[i]) !== JSON.stringify(t));
  if (differs < 0) return statement.chain.slice(leader.chain.length);
  // Both only moved since they parted: what is left between them is a move.
  const led = stepsOnly(motif, leader.chain.slice(differs));
  const own = stepsOnly(motif, statement.chain.slice(differs));
  return led === undefined || own === undefined
    ? undefined
    : [{ kind: 'transpose', by: 'scale', steps: own - led }];
};

/** The name of the relation between a statement and its leader, held strictly to the definitions. */
const relation = (motif: Motif, statement: Statement, leader: Statement): string | undefined => {
  const extra = beyondLeader(motif, statement, leader);
  if (extra === undefined) return undefined;
  const steps = stepsOnly(motif, extra);
  const size = scaleSize(motif.key);
  const overlaps =
    less(statementStart(motif, statement), statementEnd(motif, leader)) &&
    less(statementStart(motif, leader), statementEnd(motif, statement));
  const later = less(leader.onset, statement.onset);
  const atOctave = steps !== undefined && steps % size === 0;
  const wholeTimes = timesThrough(motif, statement, leader);
  if (!overlaps && !later) return undefined;
  if (overlaps && (wholeTimes || equal(statement.onset, leader.onset))) {
    if (steps === 0) return 'second part, in unison';
    if (atOctave) return 'second part, at the octave';
    return steps === undefined ? undefined : `second part, ${moved(steps)}`;
  }
  if (overlaps && later) {
    if (atOctave) return `canon, ${delay(motif, statement, leader)} later`;
    if (steps !== undefined) return `imitation, ${delay(motif, statement, leader)} later, ${moved(steps)}`;
    const { names, by } = apart(motif, extra);
    const height = by === 0 ? '' : `, ${moved(by)}`;
    return `imitation by ${names.join(' and ')}, ${delay(motif, statement, leader)} later${height}`;
  }
  if (
    later &&
    equal(statementStart(motif, statement), statementEnd(motif, leader)) &&
    steps !== undefined &&
    steps !== 0 &&
    statement.part === leader.part
  ) {
    return `sequence, ${moved(steps)}`;
  }
  return undefined;
};

/** Whether the statement enters as the leader starts another time through: together, not in canon. */
const timesThrough = (motif: Motif, statement: Statement, leader: Statement): boolean => {
  const one = statementEnd(motif, { ...leader, times: 1 });
  const length = subtract(one, statementStart(motif, leader));
  const gap = subtract(statement.onset, leader.onset);
  return gap.n >= 0 && (gap.n * length.d) % (gap.d * length.n) === 0;
};

const moved = (steps: number): string => `${steps < 0 ? 'down' : 'up'} ${plural(Math.abs(steps), 'step')}`;

const delay = (motif: Motif, statement: Statement, leader: Statement): string => {
  const bars = divide(subtract(statement.onset, leader.onset), barLength(motif.metre));
  if (bars.d === 1) return plural(bars.n, 'bar');
  const from = barAndBeat(motif.metre, leader.onset);
  const to = barAndBeat(motif.metre, statement.onset);
  const lengths = beatLengths(motif.metre);
  const inside = (at: Fraction, beat: number): Fraction =>
    divide(
      subtract(remainder(at, barLength(motif.metre)), beatStarts(motif.metre)[beat - 1] ?? ZERO),
      lengths[beat - 1] ?? { n: 1, d: 4 },
    );
  const whole = (to.bar - from.bar) * lengths.length + to.beat - from.beat;
  const part = subtract(inside(statement.onset, to.beat), inside(leader.onset, from.beat));
  const beats = whole + part.n / part.d;
  if (Number.isInteger(beats)) return plural(beats, 'beat');
  if (beats === 0.5) return 'half a beat';
  return Number.isInteger(beats * 2)
    ? `${word(Math.floor(beats))} and a half beats`
    : `${beats.toFixed(2)} beats`;
};

/**
 * What a statement is, in trade words, as its bracket says it.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * statementName(idea, plan, plan.statements[0]) // => 'the motif'
 */
export const statementName = (motif: Motif, plan: Plan, statement: Statement): string => {
  const leader = statement.leader === undefined ? undefined : findStatement(plan, statement.leader);
  const times =
    statement.times === 1 ? '' : `, ${COUNTS[statement.times] ?? `${String(statement.times)} times`}`;
  const untied = statement.detached === undefined ? '' : ', changed by hand';
  const related = leader === undefined ? undefined : relation(motif, statement, leader);
  if (related !== undefined) {
    const inherited = leader?.chain.map(treatmentName).join(', ') ?? '';
    return related + (inherited === '' ? '' : ` (${inherited})`) + times + untied;
  }
  const which = statement.motif === undefined ? '' : `motif ${statement.motif}`;
  if (statement.chain.length === 0) return `${which === '' ? 'the motif' : which}${times}${untied}`;
  return (which === '' ? '' : `${which}: `) + chainNames(statement.chain).join(', ') + times + untied;
};

/**
 * The techniques a plan uses, each once, in the order they came, for the register.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * treatmentsUsed(idea, plan) // => []
 */
export const treatmentsUsed = (motif: Motif, plan: Plan): readonly string[] => {
  const used = plan.statements.flatMap(statement => {
    const [name = ''] = statementName(motif, plan, statement).split(',');
    const names = /^(the )?motif/.test(name) ? [] : [name.replace(/ \(.*/, '')];
    const moved = name.startsWith('up ') || name.startsWith('down ') ? ['transposition'] : names;
    const chain = statement.chain
      .filter(t => t.kind !== 'transpose' && t.kind !== 'octave')
      .map(treatmentName);
    return [...(statement.times > 1 ? ['repetition'] : []), ...moved, ...chain];
  });
  return [...new Set(used)];
};
