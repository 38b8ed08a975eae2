import {
  add,
  atMost,
  equal,
  type Fraction,
  less,
  multiply,
  negate,
  subtract,
  ZERO,
} from '../foundation/fraction.ts';
import { fragment } from '../motif/fragment.ts';
import { type Motif, upbeatOf } from '../motif/motif.ts';
import { freed } from '../plan/lacks.ts';
import { marksOfTime, type NoteMark } from '../plan/noteMarks.ts';
import type { Plan } from '../plan/plan.ts';
import { passageOf, type Statement, statementEnd, statementStart } from '../plan/statement.ts';

/** A piece of a statement, still without an id of its own. */
type Slice = Omit<Statement, 'id'>;

/** One time through a statement, from `from` up to `to` of it (from its first barline): a fragment. */
const slice = (motif: Motif, statement: Slice, from: Fraction, to: Fraction): Slice => {
  const { detached, leader, ...rest } = statement;
  const passage = passageOf(motif, { ...statement, id: '' });
  // What is cut from its start on answers its leader as before, as far as it goes.
  const answers = leader !== undefined && equal(from, negate(upbeatOf(passage)));
  return {
    ...rest,
    ...(answers ? { leader } : {}),
    times: 1,
    chain: [...statement.chain, { kind: 'fragment', from, to }],
    ...(detached === undefined ? {} : { detached: fragment(passage, from, to).notes }),
  };
};

/**
 * What a statement sounds between two places, as statements: whole times through stay together, a time
 * cut by either place becomes a fragment. Notes that begin outside are left out.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * between(idea, { ...plan.statements[0], times: 3 }, fraction(1), fraction(3))[0].times // => 2
 */
export const between = (
  motif: Motif,
  statement: Statement,
  from: Fraction,
  to: Fraction,
): readonly Slice[] => {
  const passage = passageOf(motif, statement);
  const { length } = passage;
  const upbeat = upbeatOf(passage);
  const { id: _, noteMarks: marks = [], ...bare } = statement;
  if (length.n <= 0) return [];
  const pieces: Slice[] = [];
  for (let time = 0; time < statement.times; time++) {
    const onset = add(statement.onset, multiply(length, { n: time, d: 1 }));
    const start = subtract(onset, upbeat);
    const end = add(start, length);
    if (atMost(end, from) || atMost(to, start)) continue;
    if (atMost(from, start) && atMost(end, to)) {
      const last = pieces.at(-1);
      const goesOn =
        last !== undefined &&
        last.chain === statement.chain &&
        equal(add(last.onset, multiply(length, { n: last.times, d: 1 })), onset);
      if (goesOn)
        pieces[pieces.length - 1] = {
          ...last,
          times: last.times + 1,
          ...marked([...(last.noteMarks ?? []), ...marksOfTime(marks, time, last.times)]),
        };
      else pieces.push({ ...bare, onset, times: 1, ...marked(marksOfTime(marks, time, 0)) });
      continue;
    }
    const cutFrom = less(start, from) ? subtract(from, start) : ZERO;
    const cutTo = less(to, end) ? subtract(to, start) : length;
    const [sliceFrom, sliceTo] = [subtract(cutFrom, upbeat), subtract(cutTo, upbeat)];
    const kept = passage.notes.flatMap((note, i) =>
      atMost(sliceFrom, note.onset) && less(note.onset, sliceTo) ? [i] : [],
    );
    const cut = slice(motif, bare, sliceFrom, sliceTo);
    pieces.push({ ...cut, onset: add(start, cutFrom), ...marked(marksOfTime(marks, time, 0, kept)) });
  }
  const begins = atMost(from, statementStart(motif, statement));
  const ends = atMost(statementEnd(motif, statement), to);
  return pieces.map((piece, i) => withOwnMarks(piece, begins && i === 0, ends && i === pieces.length - 1));
};

/** Marks of single notes as a field of a statement, where there are any. */
const marked = (marks: readonly NoteMark[]): Pick<Slice, 'noteMarks'> =>
  marks.length === 0 ? {} : { noteMarks: marks };

/** What is written at a statement's first note stays with the piece that has it, and likewise at its end. */
const withOwnMarks = (piece: Slice, begins: boolean, ends: boolean): Slice => {
  const { words, hairpin, fermata, ritardando, ...rest } = piece;
  return {
    ...rest,
    ...(words === undefined || !begins ? {} : { words }),
    ...(hairpin === undefined || !begins ? {} : { hairpin }),
    ...(fermata === undefined || !ends ? {} : { fermata }),
    ...(ritardando === undefined || !ends ? {} : { ritardando }),
  };
};

/** A plan with statements replaced by pieces of themselves; the first piece keeps the id. */
const withSlices = (plan: Plan, piecesOf: (statement: Statement) => readonly Slice[] | undefined): Plan => {
  let nextId = plan.nextId;
  const statements = plan.statements.flatMap(statement => {
    const pieces = piecesOf(statement);
    if (pieces === undefined) return [statement];
    return pieces.map((piece, i): Statement => {
      if (i === 0) return { ...piece, id: statement.id };
      const id = `s${String(nextId)}`;
      nextId += 1;
      return { ...piece, id };
    });
  });
  return { ...plan, statements, nextId };
};

const crosses = (motif: Motif, statement: Statement, at: Fraction): boolean =>
  less(statementStart(motif, statement), at) && less(at, statementEnd(motif, statement));

/**
 * The same plan with no statement of the given parts running across a place.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * splitAt(idea, plan, fraction(1, 2), ['p1']).statements.length // => 2
 */
export const splitAt = (motif: Motif, plan: Plan, at: Fraction, parts: readonly string[]): Plan =>
  withSlices(plan, statement =>
    parts.includes(statement.part) && crosses(motif, statement, at)
      ? [
          ...between(motif, statement, statementStart(motif, statement), at),
          ...between(motif, statement, at, statementEnd(motif, statement)),
        ]
      : undefined,
  );

/**
 * A plan with nothing sounding in one part between two places; what lies outside them stays.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * clearBetween(idea, plan, 'p1', fraction(0), fraction(1)).statements // => []
 */
export const clearBetween = (motif: Motif, plan: Plan, part: string, from: Fraction, to: Fraction): Plan => {
  const cleared = withSlices(plan, statement => {
    const end = statementEnd(motif, statement);
    const start = statementStart(motif, statement);
    if (statement.part !== part || atMost(end, from) || atMost(to, start)) return undefined;
    return [...between(motif, statement, start, from), ...between(motif, statement, to, end)];
  });
  return freed(cleared);
};

/**
 * The first place at or after `at` where a stretch of `length` is free in a part, at an end of what is there.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * firstFree(idea, plan, 'p1', fraction(1, 2), fraction(1)) // => fraction(1)
 */
export const firstFree = (
  motif: Motif,
  plan: Plan,
  part: string,
  at: Fraction,
  length: Fraction,
): Fraction => {
  const standing = plan.statements
    .filter(s => s.part === part)
    .map(s => ({ from: statementStart(motif, s), to: statementEnd(motif, s) }))
    .sort((a, b) => a.from.n * b.from.d - b.from.n * a.from.d);
  let place = at;
  for (const { from, to } of standing) {
    if (less(place, to) && less(from, add(place, length))) place = to;
  }
  return place;
};
