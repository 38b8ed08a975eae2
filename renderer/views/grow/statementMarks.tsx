import type { ComponentChildren } from 'preact';
import { type Articulation, type Dynamic, DYNAMIC_NAME, type Hairpin } from '../../../core/plan/dynamics.ts';
import { LONGEST_WORDS } from '../../../core/plan/marks.ts';
import type { Statement } from '../../../core/plan/statement.ts';
import { useApp } from '../../desk/appContext.ts';
import { setArticulation, setDynamic, setMarks } from '../../desk/commands/statements.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import { useTyping } from '../parts/typing.ts';

const DYNAMICS = Object.keys(DYNAMIC_NAME) as Dynamic[];
const ARTICULATIONS: readonly { readonly value: Articulation | ''; readonly text: string }[] = [
  { value: '', text: 'plainly' },
  { value: 'accent', text: 'with accents' },
  { value: 'staccato', text: 'short (staccato)' },
  { value: 'tenuto', text: 'held (tenuto)' },
];
const HAIRPINS: readonly { readonly value: Hairpin | ''; readonly text: string }[] = [
  { value: '', text: 'as loud throughout' },
  { value: 'crescendo', text: 'louder and louder (crescendo)' },
  { value: 'diminuendo', text: 'softer and softer (diminuendo)' },
];
const SLURS = [
  { value: '', text: 'no slur' },
  { value: 'slur', text: 'a slur over it' },
];
const PEDALS = [
  { value: '', text: 'without pedal' },
  { value: 'pedal', text: 'with the pedal down' },
];
const ROLLS = [
  { value: '', text: 'without rolls' },
  { value: 'last', text: 'with its last note rolled' },
  { value: 'all', text: 'with every note rolled' },
] as const;
/** How it ends: what slows down, what is held. */
const ENDS = [
  { value: '', text: 'in tempo' },
  { value: 'rit', text: 'slower and slower (ritardando)' },
  { value: 'hold', text: 'with the last note held (fermata)' },
  { value: 'both', text: 'slower, and the last note held' },
];

/** The marks of the chosen statement: loudness, touch, slur, how it ends, and words over the stave. */
export const StatementMarksBox = (props: {
  statement: Statement;
  /** Its part is played on an instrument with a pedal. */
  hasPedal: boolean;
}): ComponentChildren => {
  const { desk } = useApp();
  const { statement } = props;
  const { id, fermata, ritardando } = statement;
  const typing = useTyping(statement.words ?? '', words => {
    desk.run(setMarks, id, words.trim() === '' ? 'no words' : `“${words.trim()}”`, { words });
  });
  const end =
    ritardando === undefined ? (fermata === undefined ? '' : 'hold') : fermata === undefined ? 'rit' : 'both';
  return (
    <p class="sentences small">
      <SentenceChoice
        before="Loudness:"
        value={statement.dynamic ?? ''}
        choices={[
          { value: '', text: 'as before' },
          ...DYNAMICS.map(d => ({ value: d, text: `${d} (${DYNAMIC_NAME[d]})` })),
        ]}
        onChoose={v => {
          desk.run(setDynamic, id, v === '' ? undefined : (v as Dynamic));
        }}
      />
      <SentenceChoice
        before="and"
        value={statement.hairpin ?? ''}
        choices={HAIRPINS}
        after="."
        onChoose={v => {
          const hairpin = HAIRPINS.find(h => h.value === v && h.value !== '')?.value as Hairpin | undefined;
          desk.run(setMarks, id, hairpin ?? 'no hairpin', { hairpin });
        }}
      />
      <SentenceChoice
        before="Played"
        value={statement.articulation ?? ''}
        choices={ARTICULATIONS}
        after=","
        onChoose={v => {
          desk.run(setArticulation, id, v === '' ? undefined : (v as Articulation));
        }}
      />
      <SentenceChoice
        before="and"
        value={statement.rolled ?? ''}
        choices={ROLLS}
        after="."
        onChoose={v => {
          const roll = ROLLS.find(r => r.value === v);
          const rolled = roll === undefined || roll.value === '' ? undefined : roll.value;
          desk.run(setMarks, id, roll?.text ?? 'without rolls', { rolled });
        }}
      />
      <SentenceChoice
        before="With"
        value={statement.slurred === undefined ? '' : 'slur'}
        choices={SLURS}
        after="."
        onChoose={v => {
          desk.run(setMarks, id, v === '' ? 'no slur' : 'slur', { slurred: v === '' ? undefined : true });
        }}
      />
      {props.hasPedal && (
        <SentenceChoice
          before="Each time"
          value={statement.pedalled === undefined ? '' : 'pedal'}
          choices={PEDALS}
          after="."
          onChoose={v => {
            const pedalled = v === '' ? undefined : (true as const);
            desk.run(setMarks, id, v === '' ? 'without pedal' : 'pedal', { pedalled });
          }}
        />
      )}
      <SentenceChoice
        before="It ends"
        value={end}
        choices={ENDS}
        after="."
        onChoose={v => {
          desk.run(setMarks, id, ENDS.find(e => e.value === v)?.text ?? 'in tempo', {
            ritardando: v === 'rit' || v === 'both' ? true : undefined,
            fermata: v === 'hold' || v === 'both' ? true : undefined,
          });
        }}
      />
      <label class="sentence">
        <span>Words over it:</span>
        <input
          class="blank"
          {...typing}
          placeholder="dreamily"
          maxLength={LONGEST_WORDS}
          onKeyDown={event => {
            typing.onKeyDown(event);
            if (event.key === 'Enter') event.currentTarget.blur();
          }}
        />
      </label>
    </p>
  );
};
