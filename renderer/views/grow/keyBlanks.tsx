import type { ComponentChildren } from 'preact';
import { lastBar } from '../../../core/growing/sections.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import type { CardChoice } from './cardChoice.ts';
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
  const bars = Array.from({ length: Math.max(1, lastBar(motif, plan) - 1) }, (_, i) => i + 2);
  return (
    <>
      <SentenceChoice
        before="From"
        value={String(keyBarOf(choice, motif, plan))}
        choices={bars.map(bar => {
          const letter = plan.letters.find(l => l.bar === bar - 1)?.letter;
          return {
            value: String(bar),
            text: letter === undefined ? `bar ${String(bar)}` : `letter ${letter}, bar ${String(bar)}`,
          };
        })}
        after=" on,"
        onChoose={v => {
          onChoose({ ...choice, keyBar: Number(v) });
        }}
      />
      <SentenceChoice
        before="everything sounds"
        value={keyValue(choice.otherKey)}
        choices={options}
        after="."
        onChoose={v => {
          onChoose({ ...choice, otherKey: options.find(o => o.value === v)?.to ?? choice.otherKey });
        }}
      />
    </>
  );
};
