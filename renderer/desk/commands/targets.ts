import type { Target } from '../../../core/growing/growth.ts';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../../core/instruments/instruments.ts';
import { afterThe, partName } from '../../../core/plan/partList.ts';
import { MOST_PARTS, type Plan } from '../../../core/plan/plan.ts';

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

/** Whether a choice is this part. */
export const isPart = (choice: TargetChoice, part: string): boolean =>
  'part' in choice.target && choice.target.part === part;
