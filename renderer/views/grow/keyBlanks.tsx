import type { ComponentChildren } from 'preact';
import type { Motif } from '../../../core/motif/motif.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import type { CardChoice } from './cardChoice.ts';
import { FromBar } from './fromBar.tsx';
import { TakeKeyAway } from './takeChangeAway.tsx';
import { keyBarOf, keyOptions, keyValue } from './otherKeys.ts';

/** The blanks of a change of key: from which bar, and what becomes of everything there. */
export const KeyBlanks = (props: {
  choice: CardChoice;
  motif: Motif;
  plan: Plan;
  onChoose: (choice: CardChoice) => void;
}): ComponentChildren => {
  const { choice, motif, plan, onChoose } = props;
  const options = keyOptions(motif.key);
  const bar = keyBarOf(choice, motif, plan);
  return (
    <>
      <FromBar
        bar={bar}
        motif={motif}
        plan={plan}
        onChoose={keyBar => {
          onChoose({ ...choice, keyBar });
        }}
      />
      <SentenceChoice
        before="everything sounds"
        value={keyValue(choice.otherKey)}
        choices={options}
        after="."
        wraps
        onChoose={v => {
          onChoose({ ...choice, otherKey: options.find(o => o.value === v)?.to ?? choice.otherKey });
        }}
      />
      <TakeKeyAway motif={motif} plan={plan} bar={bar} />
    </>
  );
};
