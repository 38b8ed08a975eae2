import { less } from '../../../core/foundation/fraction.ts';
import type { Target } from '../../../core/growing/growth.ts';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../../core/instruments/instruments.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { barAndBeat, positionOf } from '../../../core/plan/beats.ts';
import { barringIn } from '../../../core/plan/keys.ts';
import { afterThe, partName } from '../../../core/plan/partList.ts';
import { MOST_PARTS, type Plan, statementsOf } from '../../../core/plan/plan.ts';
import { statementEnd } from '../../../core/plan/statement.ts';

/** Where a new statement may go, in words a pupil knows. */
export interface TargetChoice {
  /** Unique among the choices of a plan. */
  readonly value: string;
  readonly text: string;
  readonly target: Target;
  readonly instrument: InstrumentId;
}

/** New instruments first, then the parts there are, then one more of an instrument that is there. */
export const targetChoices = (plan: Plan): readonly TargetChoice[] => {
  const there = plan.parts.map(p => ({
    value: `part ${p.id}`,
    text: `the ${afterThe(partName(plan, p))}`,
    target: { part: p.id },
    instrument: p.instrument,
  }));
  const isUsed = (id: InstrumentId): boolean => plan.parts.some(p => p.instrument === id);
  const isFull = plan.parts.length >= MOST_PARTS;
  const anew = (used: boolean): TargetChoice[] =>
    INSTRUMENT_IDS.filter(id => !isFull && isUsed(id) === used).map(id => ({
      value: `new ${id}`,
      text: `${used ? 'another' : 'a new'} ${INSTRUMENTS[id].name.toLowerCase()}`,
      target: { newPart: id },
      instrument: id,
    }));
  return [...anew(false), ...there, ...anew(true)];
};

/** A target, by its value among the choices, and the bar something begins in there, from 1. */
export interface FreePlace {
  readonly target: string;
  readonly bar: number;
}

/**
 * Where something may go if nobody chose: into each other instrument or part at this bar, then after all that each part
 * plays, the other parts before its own.
 */
export const placesFor = (
  motif: Motif,
  plan: Plan,
  { part, bar }: { readonly part: string; readonly bar: number },
): readonly FreePlace[] => {
  const choices = targetChoices(plan);
  const others = choices.filter(choice => !isPart(choice, part));
  const barring = barringIn(motif, plan);
  const after = [...others, ...choices.filter(choice => isPart(choice, part))].flatMap(
    ({ value, target }) => {
      const last = 'part' in target ? statementsOf(plan, target.part).at(-1) : undefined;
      if (last === undefined) return [];
      const end = statementEnd(motif, last);
      const inside = barAndBeat(barring, end).bar;
      const next = less(positionOf(barring, inside, 1), end) ? inside + 1 : inside;
      // An upbeat begins before the barline, where the part may still play.
      return [next, next + 1].map(bar => ({ target: value, bar }));
    },
  );
  return [...others.map(({ value }) => ({ target: value, bar })), ...after];
};

/** Whether a choice is this part. */
export const isPart = (choice: TargetChoice, part: string): boolean =>
  'part' in choice.target && choice.target.part === part;
