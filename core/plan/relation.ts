import { add, atMost, compare, equal, less, subtract } from '../foundation/fraction.ts';
import { metreAtPlace } from '../foundation/barring.ts';
import { barLength } from '../foundation/metre.ts';
import { scaleSize } from '../foundation/key.ts';
import { INSTRUMENTS } from '../instruments/instruments.ts';
import type { Motif } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { delayWords } from './delayWords.ts';
import { canonInterval, semitonesApart, stepsApart } from './intervals.ts';
import { barringIn } from './keys.ts';
import { type Likeness, likeness } from './likeness.ts';
import { type Plan, statementsOf } from './plan.ts';
import { type Statement, statementEnd, statementStart } from './statement.ts';
import { chainNames, isVariation } from './treatmentWords.ts';

/** How a statement stands to its leader: the technique, and the whole of it in words. */
export interface Relation {
  readonly technique: string;
  readonly text: string;
}

const octavesOnly = (semitones: number | undefined): boolean =>
  semitones !== undefined && semitones % 12 === 0;

/** How much higher the follower is written. */
const height = (motif: Motif, { steps, semitones }: Likeness): string =>
  steps === undefined ? semitonesApart(semitones ?? 0) : stepsApart(steps, scaleSize(motif.key));

/** Whether the statement enters as the leader starts another time through: together, not in canon. */
const timesThrough = (motif: Motif, statement: Statement, leader: Statement): boolean => {
  const one = statementEnd(motif, { ...leader, times: 1 });
  const length = subtract(one, statementStart(motif, leader));
  const gap = subtract(statement.onset, leader.onset);
  return gap.n >= 0 && (gap.n * length.d) % (gap.d * length.n) === 0;
};

/** By the ear: what two instruments play from the same page may sound an octave apart. */
const soundsAbove = (plan: Plan, statement: Statement): number => {
  const instrument = plan.parts.find(p => p.id === statement.part)?.instrument;
  return instrument === undefined ? 0 : INSTRUMENTS[instrument].soundsAbove;
};

/** Both at once: a second part, at a height; in other forms it has the form's name alone. */
const secondPart = (
  motif: Motif,
  plan: Plan,
  statement: Statement,
  leader: Statement,
  like: Likeness | undefined,
): Relation | undefined => {
  if (like === undefined || like.forms.length > 0) return undefined;
  const apart =
    like.semitones === undefined
      ? undefined
      : like.semitones + soundsAbove(plan, statement) - soundsAbove(plan, leader);
  const where = apart === 0 ? 'in unison' : octavesOnly(apart) ? 'at the octave' : height(motif, like);
  return { technique: 'second part', text: `second part, ${where}` };
};

/** One after the other while the leader goes on: canon where it is exact, imitation where it is not. */
const following = (
  motif: Motif,
  plan: Plan,
  statement: Statement,
  leader: Statement,
  like: Likeness,
): Relation => {
  const later = `${delayWords(barringIn(motif, plan), leader.onset, statement.onset)} later`;
  const cut = like.cutShort ? ', cut short' : '';
  const { forms, semitones, steps } = like;
  const moved = steps === 0 || octavesOnly(semitones) ? '' : `, ${height(motif, like)}`;
  // Varied it is similar and not the same, whatever else was done.
  if (forms.some(isVariation)) {
    const names = chainNames(
      forms.filter(t => !isVariation(t)),
      scaleSize(motif.key),
    );
    const by = names.length === 0 ? '' : ` by ${names.join(' and ')}`;
    return { technique: 'imitation', text: `imitation${by}, varied, ${later}${moved}` };
  }
  if (forms.some(t => t.kind === 'fragment')) {
    const rest = chainNames(
      forms.filter(t => t.kind !== 'fragment'),
      scaleSize(motif.key),
    );
    const by = rest.length === 0 ? '' : ` by ${rest.join(' and ')}`;
    return {
      technique: 'imitation',
      text: `imitation of a fragment${by}, ${later}${moved}`,
    };
  }
  if (forms.length > 0) {
    // That it is a canon says already that the intervals are exact.
    const plain = forms.map((t): Treatment => (t.kind === 'invert' ? { kind: 'invert', by: 'scale' } : t));
    const [kind, named] = semitones === undefined ? ['imitation', forms] : ['canon', plain];
    const name = `${kind} by ${chainNames(named, scaleSize(motif.key)).join(' and ')}`;
    return { technique: name, text: `${name}, ${later}${moved}` };
  }
  if (octavesOnly(semitones)) return { technique: 'canon', text: `canon, ${later}${cut}` };
  if (semitones === undefined) return { technique: 'imitation', text: `imitation, ${later}${moved}${cut}` };
  const letters = scaleSize(motif.key) === 7 ? steps : undefined;
  const name = `canon ${canonInterval(semitones, letters)}`;
  return { technique: name, text: `${name}, ${later}${cut}` };
};

/**
 * Whether a statement goes on from its leader as a sequence: it follows straight on in the same part, or is
 * one of the statements of a section that does, all of them moved alike.
 */
const inSequence = (
  motif: Motif,
  plan: Plan,
  statement: Statement,
  leader: Statement,
  like: Likeness,
): boolean => {
  if (statement.part !== leader.part) return false;
  if (like.steps === 0 || (like.steps === undefined && like.semitones === 0)) return false;
  if (equal(statementStart(motif, statement), statementEnd(motif, leader))) return true;
  const shift = subtract(statement.onset, leader.onset);
  const { metre } = metreAtPlace(barringIn(motif, plan), leader.onset);
  const bar = barLength(metre);
  if (shift.n <= 0 || (shift.n * bar.d) % (shift.d * bar.n) !== 0) return false;
  const own = statementsOf(plan, statement.part);
  const again = (s: Statement): boolean =>
    own.some(other => {
      if (!equal(other.onset, add(s.onset, shift))) return false;
      const alike = likeness(motif, other, s, plan);
      return alike?.forms.length === 0 && alike.steps === like.steps && alike.semitones === like.semitones;
    });
  return own.some(first => {
    const from = statementStart(motif, first);
    const to = add(from, shift);
    const begins = (s: Statement): boolean =>
      atMost(from, statementStart(motif, s)) && less(statementStart(motif, s), to);
    if (!begins(leader) || !own.filter(begins).every(again)) return false;
    // Straight on: less than a bar is silent before it comes again.
    const end = plan.statements
      .filter(begins)
      .map(s => statementEnd(motif, s))
      .sort(compare)
      .at(-1);
    return end !== undefined && less(subtract(to, bar), end);
  });
};

/** Exact in every interval and out of the key by that, or where another key begins, a sequence modulates. */
const sequenceName = (motif: Motif, like: Likeness): Relation => {
  const leaves = like.semitones !== undefined && (like.modulates === true || like.steps === undefined);
  const technique = leaves ? 'modulating sequence' : 'sequence';
  return { technique, text: `${technique}, ${height(motif, like)}` };
};

/**
 * How a statement stands to the leader it answers, by definition; undefined where no name holds.
 *
 * A canon is imitation note for note after a time, while the leader goes on: exact at the unison or octave
 * it is called a canon, exact at another interval 'canon at the fifth', in another form 'by inversion'
 * (Concise Oxford Dictionary of Music, 'canon'). What is alike in number only is imitation, as is an idea
 * taken up straight away in another part (classroom usage). A sequence is the same, straight on in the same
 * part, higher or lower. Heights are as written; unison and octave as heard.
 */
export const relation = (
  motif: Motif,
  plan: Plan,
  statement: Statement,
  leader: Statement,
): Relation | undefined => {
  const start = statementStart(motif, statement);
  const leaderEnd = statementEnd(motif, leader);
  const overlaps =
    less(start, leaderEnd) && less(statementStart(motif, leader), statementEnd(motif, statement));
  if (overlaps && (timesThrough(motif, statement, leader) || equal(statement.onset, leader.onset)))
    // Together they are in the same key, whatever it is.
    return secondPart(motif, plan, statement, leader, likeness(motif, statement, leader));
  const like = likeness(motif, statement, leader, plan);
  if (like === undefined || !less(leader.onset, statement.onset)) return undefined;
  if (overlaps) return following(motif, plan, statement, leader, like);
  if (like.forms.length > 0 || like.cutShort) return undefined;
  if (inSequence(motif, plan, statement, leader, like)) return sequenceName(motif, like);
  if (statement.part === leader.part || !equal(start, leaderEnd)) return undefined;
  const later = `${delayWords(barringIn(motif, plan), leader.onset, statement.onset)} later`;
  const moved = like.steps === 0 || octavesOnly(like.semitones) ? '' : `, ${height(motif, like)}`;
  return { technique: 'imitation', text: `imitation, ${later}${moved}` };
};
