import type { ComponentChildren } from 'preact';
import { metreInWords } from '../../../core/foundation/metre.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import type { CardChoice } from './cardChoice.ts';
import { FromBar } from './fromBar.tsx';
import { metreBarOf, metreOptions, otherMetreOf } from './otherMetres.ts';

/** The blanks of a change of metre: from which bar, and which it is. */
export const MetreBlanks = (props: {
  choice: CardChoice;
  motif: Motif;
  plan: Plan;
  onChoose: (choice: CardChoice) => void;
}): ComponentChildren => {
  const { choice, motif, plan, onChoose } = props;
  const bar = metreBarOf(choice, motif, plan);
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
      <SentenceChoice
        before="the bars are in"
        value={metreInWords(otherMetreOf(choice, motif, plan))}
        choices={metreOptions(motif, plan, bar).map(m => ({
          value: metreInWords(m),
          text: metreInWords(m),
        }))}
        after="."
        onChoose={v => {
          onChoose({ ...choice, otherMetre: v });
        }}
      />
    </>
  );
};
