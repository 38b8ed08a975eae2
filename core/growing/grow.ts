import { atMost, type Fraction } from '../foundation/fraction.ts';
import { failed, ok, type Result } from '../foundation/result.ts';
import type { Motif } from '../motif/motif.ts';
import type { Treatment } from '../motif/treatment.ts';
import { beatsLater, positionOf } from '../plan/beats.ts';
import { addPart } from '../plan/change.ts';
import { barringIn } from '../plan/keys.ts';
import { unplaced } from '../plan/marks.ts';
import { gonePart, goneStatement } from '../plan/lacks.ts';
import { findStatement, type Plan } from '../plan/plan.ts';
import { timesToFill } from '../plan/standing.ts';
import { statementEnd, treatedFurther } from '../plan/statement.ts';
import { accompany } from './accompany.ts';
import { changeKey } from './changeKey.ts';
import { changeMetre } from './changeMetre.ts';
import { ending } from './ending.ts';
import type { Grown, Growth, OnConflict, Target } from './growth.ts';
import { place, replace } from './place.ts';
import { outOfRange } from './refusals.ts';
import { copySection, exchangeParts } from './sections.ts';
import { MOST_BARS } from './sectionProblems.ts';
import { sequence } from './sequence.ts';

const withTarget = (plan: Plan, to: Target): Result<{ plan: Plan; part: string }> => {
  if ('newPart' in to) return addPart(plan, to.newPart);
  if (plan.parts.some(p => p.id === to.part)) return ok({ plan, part: to.part });
  return failed(gonePart());
};

/** At which height an entry answers, and what else is done to it. */
const answered = (
  step: Extract<Growth, { kind: 'second-part' | 'canon' | 'imitation' }>,
): readonly Treatment[] => {
  const by = step.kind === 'imitation' ? step.steps : (step.octaves ?? 0);
  const height: Treatment =
    step.kind === 'imitation'
      ? { kind: 'transpose', by: 'scale', steps: by }
      : { kind: 'octave', octaves: by };
  return [...(by === 0 ? [] : [height]), ...(step.also ?? [])];
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
  if (from === undefined) return failed(goneStatement());
  const end = statementEnd(motif, from);
  const barring = barringIn(motif, plan);
  const enter = (
    to: Target,
    at: Fraction,
    extra: readonly Treatment[],
    leader: string | undefined,
    times?: number,
  ): Grown => {
    const target = withTarget(plan, to);
    if (!target.ok) return target;
    const { id: _, leader: __, ...base } = unplaced(from);
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
      return enter(step.to, positionOf(barring, step.bar, 1), answered(step), from.id);
    case 'canon':
    case 'imitation':
      if (step.beats < 1) return failed(outOfRange('at least one beat later'));
      return enter(step.to, beatsLater(barring, from.onset, step.beats), answered(step), from.id);
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
    case 'accompany': {
      if (step.bars < 1 || step.bar < 1 || step.bar + step.bars - 1 > MOST_BARS)
        return failed(outOfRange(`1 to ${String(MOST_BARS)} bars`));
      if (step.what.steps.length < 1) return failed(outOfRange('one note or more'));
      const room = withTarget(plan, step.to);
      if (!room.ok) return room;
      return accompany(motif, room.value, step, barring, onConflict);
    }
    case 'key': {
      const changed = changeKey(motif, plan, step.bar, step.to);
      if (!changed.ok) return changed;
      const at = positionOf(barring, step.bar, 1);
      const there = changed.value.statements.find(s => atMost(at, s.onset)) ?? from;
      return ok({ plan: changed.value, statement: there.id });
    }
    case 'metre': {
      const changed = changeMetre(motif, plan, step.bar, step.to);
      if (!changed.ok) return changed;
      const at = positionOf(barring, step.bar, 1);
      const there = changed.value.statements.find(s => atMost(at, s.onset)) ?? from;
      return ok({ plan: changed.value, statement: there.id });
    }
    case 'ending':
      return ending(motif, plan, step);
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
