import type { ComponentChildren } from 'preact';
import type { BarNumber } from '../../../core/foundation/units.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import { laterBars } from './otherKeys.ts';

/** The blank that says from which bar on something else holds. */
export const FromBar = (props: {
  bar: BarNumber;
  motif: Motif;
  plan: Plan;
  onChoose: (bar: BarNumber) => void;
}): ComponentChildren => (
  <SentenceChoice
    before="From"
    value={String(props.bar)}
    choices={laterBars(props.motif, props.plan)}
    after=" on,"
    onChoose={v => {
      props.onChoose(Number(v));
    }}
  />
);
