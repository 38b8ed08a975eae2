import type { ComponentChildren } from 'preact';
import { SentenceChoice } from '../parts/sentence.tsx';
import { ALSO, alsoWords, type CardChoice } from './cardChoice.ts';

/** Treatments added to the card's own, one after the other. */
export const AlsoBlank = (props: {
  choice: CardChoice;
  onChoose: (choice: CardChoice) => void;
}): ComponentChildren => {
  const { choice, onChoose } = props;
  return (
    <span class="sentence-group">
      {choice.also.map((treatment, i) => (
        <button
          key={i}
          class="plain word"
          title="Leave this out"
          onClick={() => {
            onChoose({ ...choice, also: choice.also.filter((_, j) => j !== i) });
          }}
        >
          {alsoWords(treatment)} ×
        </button>
      ))}
      <SentenceChoice
        key={`also ${String(choice.also.length)}`}
        before="and also"
        value=""
        choices={[{ value: '', text: 'nothing else' }, ...ALSO.map(a => ({ value: a.value, text: a.text }))]}
        onChoose={v => {
          const chosen = ALSO.find(a => a.value === v);
          if (chosen !== undefined) onChoose({ ...choice, also: [...choice.also, chosen.treatment] });
        }}
      />
    </span>
  );
};
