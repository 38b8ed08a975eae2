import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import { metreInWords } from '../../../core/foundation/metre.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import type { CardChoice } from './cardChoice.ts';
import { FromBar } from './fromBar.tsx';
import { TakeMetreAway } from './takeChangeAway.tsx';
import { metreBarOf, metreOptions, noMetreBecause, otherMetreOf } from './otherMetres.ts';

/** The blanks of a change of metre: from which bar, and which it is; why it can be none, where that is so. */
export const MetreBlanks = (props: {
  choice: CardChoice;
  motif: Motif;
  plan: Plan;
  onChoose: (choice: CardChoice) => void;
}): ComponentChildren => {
  const { choice, motif, plan, onChoose } = props;
  const bar = metreBarOf(choice, motif, plan);
  const options = useMemo(() => metreOptions(motif, plan, bar), [motif, plan, bar]);
  const reason = options.length > 0 ? undefined : noMetreBecause(motif, plan, bar);
  return (
    <>
      <FromBar
        bar={bar}
        motif={motif}
        plan={plan}
        onChoose={metreBar => {
          onChoose({ ...choice, metreBar });
        }}
      />
      {options.length === 0 ? (
        <p class="no-option">No other metre can begin there. {reason?.what}</p>
      ) : (
        <SentenceChoice
          before="the bars are in"
          value={metreInWords(otherMetreOf(choice, motif, plan))}
          choices={options.map(m => ({ value: metreInWords(m), text: metreInWords(m) }))}
          after="."
          onChoose={v => {
            onChoose({ ...choice, otherMetre: v });
          }}
        />
      )}
      <TakeMetreAway motif={motif} plan={plan} bar={bar} />
    </>
  );
};
