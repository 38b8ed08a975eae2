import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { RegisterFilter, RegisterRow } from '../../../core/library/register.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import { useApp } from '../../desk/appContext.ts';
import { inputNow } from '../../desk/acts/striking.ts';
import { findLikeStruck } from '../../desk/commands/alike.ts';
import { useCaught } from '../play/useCaught.ts';
import { HELP } from '../help/helpWords.ts';

type Asked = Omit<RegisterFilter, 'className'>;

const STATES: readonly { readonly value: RegisterFilter['state']; readonly text: string }[] = [
  { value: '', text: 'everyone' },
  { value: 'nothing', text: 'who has nothing yet' },
  { value: 'draft', text: 'drafts' },
  { value: 'kept', text: 'what is kept' },
  { value: 'unanswered', text: 'what has no feedback yet' },
  { value: 'rivals', text: 'two versions' },
  { value: 'away', text: 'what is put away' },
];

/** Not a state of lines, but another way to choose them. */
const STRUCK = 'struck';

const choices = (
  every: string,
  found: Iterable<string>,
): readonly { readonly value: string; readonly text: string }[] => [
  { value: '', text: every },
  ...[...new Set(found)].sort().map(text => ({ value: text, text })),
];

/** What the register shows, as a sentence. */
export const Showing = (props: {
  rows: readonly RegisterRow[];
  asked: Asked;
  onAsk: (asked: Asked) => void;
}): ComponentChildren => {
  const { rows, asked, onAsk } = props;
  const { desk } = useApp();
  const [times, refused] = useState(0);
  const canFindStruck = useCaught(inputNow()).length > 0;
  const facts = useMemo(() => rows.flatMap(row => row.facts ?? []), [rows]);
  return (
    <span class="sentences showing">
      <SentenceChoice
        before="Showing"
        help={HELP.showing}
        value={asked.state}
        choices={
          canFindStruck ? [...STATES, { value: STRUCK, text: 'what is like what was just struck' }] : STATES
        }
        onChoose={value => {
          if (value === STRUCK) {
            // Refused, the choice goes back to what is shown.
            if (!desk.run(findLikeStruck, inputNow())) refused(times + 1);
            return;
          }
          onAsk({ ...asked, state: STATES.find(state => state.value === value)?.value ?? '' });
        }}
      />
      <SentenceChoice
        before="grown with"
        help={HELP.showing}
        value={asked.treatment}
        choices={choices(
          'anything',
          facts.flatMap(one => one.treatments),
        )}
        onChoose={treatment => {
          onAsk({ ...asked, treatment });
        }}
      />
      <SentenceChoice
        before="in"
        help={HELP.showing}
        value={asked.metre}
        choices={choices(
          'any metre',
          facts.flatMap(one => one.metres),
        )}
        onChoose={metre => {
          onAsk({ ...asked, metre });
        }}
      />
      <SentenceChoice
        before="and"
        help={HELP.showing}
        value={asked.key}
        choices={choices(
          'any key',
          facts.map(one => one.key),
        )}
        onChoose={key => {
          onAsk({ ...asked, key });
        }}
      />
      <input
        class="field find"
        type="search"
        aria-label="With the words"
        placeholder="words"
        value={asked.words}
        onInput={event => {
          onAsk({ ...asked, words: event.currentTarget.value });
        }}
      />
    </span>
  );
};
