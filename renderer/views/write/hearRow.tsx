import type { ComponentChildren } from 'preact';
import type { Score } from '../../../core/score/score.ts';
import { hearBoth, hearPage, hearTake, SPEEDS } from '../../desk/acts/comparing.ts';
import { useApp } from '../../desk/appContext.ts';
import { setHearing } from '../../desk/commands/settings.ts';
import type { Hearing } from '../../desk/live.ts';
import type { HearSettings } from '../../desk/session.ts';
import { SentenceChoice } from '../parts/sentence.tsx';

/** Bars offered to be heard over and over. */
const MOST_BARS = 200;

/** Compare by ear: the take, the page, or both at once; all or a bar over and over, slower, with a click. */
export const HearRow = (props: { score: Score }): ComponentChildren => {
  const { desk, listening } = useApp();
  const { score } = props;
  const { speed, bar, click } = desk.hearSettings.value;
  const now = desk.hearing.value?.what;
  const set = (change: Partial<HearSettings>): void => {
    desk.run(setHearing, change);
    listening.stop();
  };
  const button = (what: Hearing['what'], text: string, hear: typeof hearTake): ComponentChildren => (
    <button
      class="second"
      aria-pressed={now === what}
      onClick={() => {
        if (now === what) listening.stop();
        else hear(desk, listening);
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
