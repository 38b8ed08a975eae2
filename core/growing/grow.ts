import type { BarNumber } from '../foundation/units.ts';
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
import { failed, ok, type Problem, type Result } from '../foundation/result.ts';
import type { Motif } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { addPart, addStatement, changeStatement } from '../plan/change.ts';
import { beatsLater, positionOf } from '../plan/beats.ts';
import { findStatement, type Plan } from '../plan/plan.ts';
import { freed, lackOf } from '../plan/lacks.ts';
import { timesToFill } from '../plan/standing.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import { type BarSpan, copySection, exchangeParts, type SectionCopy } from './sections.ts';
import { clearBetween, firstFree } from './split.ts';
import {
  onsetAfter,
  type Statement,
  statementEnd,
  statementLength,
  statementStart,
  treatedFurther,
} from '../plan/statement.ts';

/** Where a new statement goes: a part that is there, or a new one on an instrument. */
export type Target = { readonly part: string } | { readonly newPart: InstrumentId };

/** What happens where a part already plays: it stops there, or the new statement waits for it. */
export type OnConflict = 'cut' | 'postpone';

/** Everything a pupil can do to a piece in one step, as data. */
export type Growth =
  | { readonly kind: 'repeat'; readonly statement: string; readonly times: number }
  | {
      readonly kind: 'second-part';
      readonly statement: string;
      readonly to: Target;
      readonly bar: BarNumber;
      readonly octaves?: number;
      /** What else is done to it. */
      readonly also?: readonly Treatment[];
    }
  | {
      readonly kind: 'canon';
      readonly statement: string;
      readonly to: Target;
      readonly beats: number;
      readonly octaves?: number;
      readonly also?: readonly Treatment[];
    }
  | {
      readonly kind: 'imitation';
      readonly statement: string;
      readonly to: Target;
      readonly beats: number;
      readonly steps: number;
      readonly also?: readonly Treatment[];
    }
  | { readonly kind: 'change'; readonly statement: string; readonly treatments: readonly Treatment[] }
  | { readonly kind: 'sequence'; readonly statement: string; readonly steps: number; readonly copies: number }
  | {
      readonly kind: 'motif';
      readonly statement: string;
      /** Which motif; absent for the first. */
      readonly motif?: string;
      readonly onset: Fraction;
      readonly to: Target;
    }
  | {
      readonly kind: 'state';
      readonly statement: string;
      readonly treatments: readonly Treatment[];
      readonly to: Target;
      readonly onset: Fraction;
      readonly times?: number;
    }
  | ({ readonly kind: 'section' } & SectionCopy)
  | ({ readonly kind: 'exchange'; readonly pair: readonly [string, string] } & BarSpan)
  | { readonly kind: 'move'; readonly statement: string; readonly onset: Fraction; readonly part?: string };

const withTarget = (plan: Plan, to: Target): Result<{ plan: Plan; part: string }> => {
  if ('newPart' in to) return addPart(plan, to.newPart);
  if (plan.parts.some(p => p.id === to.part)) return ok({ plan, part: to.part });
  return failed({
    kind: 'not-found',
    what: 'That part is no longer in the piece.',
    kept: 'Nothing was changed.',
    next: 'Choose another part.',
  });
};

const octaveChain = (octaves: number | undefined): readonly Treatment[] =>
  octaves === undefined || octaves === 0 ? [] : [{ kind: 'octave', octaves }];

type Grown = Result<{ plan: Plan; statement: string }>;

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
const place = (
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
const replace = (
  motif: Motif,
  plan: Plan,
  id: string,
  change: Partial<Omit<Statement, 'id'>>,
  onConflict: OnConflict | undefined,
): Grown => {
  const old = findStatement(plan, id);
  if (old === undefined) return failed(gone());
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

/**
 * One step of growing a piece. The answer names the statement made or changed, so that the page
 * can show it. Fails, changing nothing, where there is no room or a number makes no sense; with
 * `onConflict` a part that already plays there gives way, or is waited for.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * const grown = grow(idea, plan, { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats: 1 });
 * grown.ok && show(grown.value.plan.statements[1].onset) // => '1/4'
 * grow(idea, plan, { kind: 'repeat', statement: 's1', times: 0 }).ok // => false
 */
export const grow = (motif: Motif, plan: Plan, step: Growth, onConflict?: OnConflict): Grown => {
  if (step.kind === 'section') return copySection(motif, plan, step);
  if (step.kind === 'exchange') return exchangeParts(motif, plan, step, step.pair);
  const from = findStatement(plan, step.statement);
  if (from === undefined) return failed(gone());
  const end = statementEnd(motif, from);
  const enter = (
    to: Target,
    at: Fraction,
    extra: readonly Treatment[],
    leader: string | undefined,
    times?: number,
  ): Grown => {
    const target = withTarget(plan, to);
    if (!target.ok) return target;
    const { id: _, leader: __, dynamic: ___, ...base } = from;
    const treated = treatedFurther(motif, from, extra);
    const count = times ?? (from.times === 1 ? 1 : timesToFill(motif, treated.chain, at, end));
    return place(
      motif,
      target.value.plan,
      {
        ...base,
        ...treated,
        part: target.value.part,
        onset: at,
        times: count,
        ...(leader === undefined ? {} : { leader }),
      },
      onConflict,
    );
  };
  switch (step.kind) {
    case 'repeat':
      if (!Number.isInteger(step.times) || step.times < 1 || step.times > 64)
        return failed(outOfRange('1 to 64 times'));
      return replace(motif, plan, from.id, { times: step.times }, onConflict);
    case 'second-part':
      return enter(
        step.to,
        positionOf(motif.metre, step.bar, 1),
        [...octaveChain(step.octaves), ...(step.also ?? [])],
        from.id,
      );
    case 'canon':
      if (step.beats < 1) return failed(outOfRange('at least one beat later'));
      return enter(
        step.to,
        beatsLater(motif.metre, from.onset, step.beats),
        [...octaveChain(step.octaves), ...(step.also ?? [])],
        from.id,
      );
    case 'imitation':
      if (step.beats < 1) return failed(outOfRange('at least one beat later'));
      return enter(
        step.to,
        beatsLater(motif.metre, from.onset, step.beats),
        [
          ...(step.steps === 0
            ? []
            : [{ kind: 'transpose' as const, by: 'scale' as const, steps: step.steps }]),
          ...(step.also ?? []),
        ],
        from.id,
      );
    case 'change':
      return replace(motif, plan, from.id, treatedFurther(motif, from, step.treatments), onConflict);
    case 'state':
      return enter(step.to, step.onset, step.treatments, from.id, step.times ?? 1);
    case 'sequence':
      return sequence(motif, plan, from, step, onConflict);
    case 'motif': {
      const room = withTarget(plan, step.to);
      if (!room.ok) return room;
      const { part } = room.value;
      const which = step.motif === undefined ? {} : { motif: step.motif };
      return place(
        motif,
        room.value.plan,
        { part, onset: step.onset, chain: [], times: 1, ...which },
        onConflict,
      );
    }
    case 'move':
      return replace(
        motif,
        plan,
        from.id,
        { onset: step.onset, ...(step.part === undefined ? {} : { part: step.part }) },
        onConflict,
      );
  }
};

/** The statement again straight after itself, moved by the same number of steps each time. */
const sequence = (
  motif: Motif,
  plan: Plan,
  from: Statement,
  step: { readonly steps: number; readonly copies: number },
  onConflict: OnConflict | undefined,
): Grown => {
  if (step.steps === 0 || step.copies < 1 || step.copies > 16)
    return failed(outOfRange('one step or more, and 1 to 16 copies'));
  let grown: Grown = ok({ plan, statement: from.id });
  let before = from;
  for (let k = 0; k < step.copies && grown.ok; k++) {
    const { id: _, dynamic: __, ...base } = before;
    grown = place(
      motif,
      grown.value.plan,
      {
        ...base,
        onset: onsetAfter(motif, before),
        ...treatedFurther(motif, before, [{ kind: 'transpose', by: 'scale', steps: step.steps }]),
        leader: before.id,
      },
      onConflict,
    );
    if (grown.ok) before = findStatement(grown.value.plan, grown.value.statement) ?? before;
  }
  return grown;
};

const gone = (): { kind: 'not-found'; what: string; kept: string; next: string } => ({
  kind: 'not-found',
  what: 'That statement is no longer in the piece.',
  kept: 'Nothing was changed.',
  next: 'Choose a bracket on the page and try again.',
});

const noBarBefore = (): Problem => ({
  kind: 'out-of-range',
  what: 'It would begin a whole bar or more before bar 1.',
  kept: 'Nothing was changed.',
  next: 'Let it enter at a later bar.',
});

const outOfRange = (range: string): { kind: 'out-of-range'; what: string; kept: string; next: string } => ({
  kind: 'out-of-range',
  what: 'That number cannot be used here.',
  kept: 'Nothing was changed.',
  next: `Choose ${range}.`,
});
