import type { ComponentChildren } from 'preact';
import type { Score } from '../../../core/score/score.ts';
import { type Hearing, hearing, hearSettings } from '../../store/app.ts';
import { hearBoth, hearPage, hearTake, SPEEDS } from '../../store/comparing.ts';
import type { Listening } from '../../store/hear.ts';
import { SentenceChoice } from '../parts/sentence.tsx';

/** Bars offered to be heard over and over. */
const MOST_BARS = 200;

/** Compare by ear: the take, the page, or both at once; all or a bar over and over, slower, with a click. */
export const HearRow = (props: { score: Score; listening: Listening }): ComponentChildren => {
  const { score, listening } = props;
  const { speed, bar, click } = hearSettings.value;
  const now = hearing.value?.what;
  const set = (change: Partial<typeof hearSettings.value>): void => {
    hearSettings.value = { ...hearSettings.value, ...change };
    listening.stop();
  };
  const button = (what: Hearing['what'], text: string, hear: (l: Listening) => void): ComponentChildren => (
    <button
      class="second"
      aria-pressed={now === what}
      onClick={() => {
        if (now === what) listening.stop();
        else hear(listening);
      }}
    >
      {now === what ? 'Stop' : text}
    </button>
  );
  const bars = (score.parts[0]?.bars ?? []).slice(0, MOST_BARS).map(b => String(b.number));
  return (
    <div class="hear-row">
      {button('take', 'Hear the take', hearTake)}
      {button('page', 'Hear the page', hearPage)}
      {button('both', 'Both at once', hearBoth)}
      <span class="sentences small">
        <SentenceChoice
          before="Hear"
          value={bar === undefined ? 'all' : String(bar)}
          choices={[
            { value: 'all', text: 'all of it' },
            ...bars.map(b => ({
              value: b,
              text: b === '0' ? 'the upbeat over and over' : `bar ${b} over and over`,
            })),
          ]}
          onChoose={value => {
            set({ bar: value === 'all' ? undefined : Number(value) });
          }}
        />
        <SentenceChoice
          before="at"
          value={String(speed)}
          choices={SPEEDS.map(s => ({ value: String(s), text: `${String(s)} %` }))}
          after=" speed"
          onChoose={value => {
            set({ speed: Number(value) });
          }}
        />
        <SentenceChoice
          before=""
          value={click ? 'with' : 'without'}
          choices={[
            { value: 'without', text: 'no click' },
            { value: 'with', text: 'with a click' },
          ]}
          onChoose={value => {
            set({ click: value === 'with' });
          }}
        />
      </span>
    </div>
  );
};
