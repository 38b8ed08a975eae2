import type { ComponentChildren } from 'preact';
import type { Score } from '../../../core/score/score.ts';
import { SPEEDS } from '../../desk/acts/comparing.ts';
import { useApp } from '../../desk/appContext.ts';
import { setHearing } from '../../desk/commands/settings.ts';
import type { HearSettings } from '../../desk/session.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import { HELP } from '../help/helpWords.ts';

/** Bars offered to be heard over and over. */
const MOST_BARS = 200;

const WHATS: readonly { readonly value: HearSettings['what']; readonly text: string }[] = [
  { value: 'page', text: 'the page' },
  { value: 'take', text: 'the take' },
  { value: 'both', text: 'both at once' },
];

/** What Hear plays in Write: the take, the page, or both; all or a bar over and over, slower, with a click. */
export const HearWords = (props: { score: Score }): ComponentChildren => {
  const { desk, listening } = useApp();
  const { score } = props;
  const { what, speed, bar, click } = desk.hearSettings.value;
  const set = (change: Partial<HearSettings>): void => {
    desk.run(setHearing, change);
    listening.stop();
  };
  const bars = (score.parts[0]?.bars ?? []).slice(0, MOST_BARS).map(b => String(b.number));
  return (
    <>
      <SentenceChoice
        before="Hear"
        help={HELP.hearWhat}
        value={what}
        choices={WHATS}
        onChoose={value => {
          set({ what: value as HearSettings['what'] });
        }}
      />
      <SentenceChoice
        before=","
        help={HELP.hearBar}
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
        help={HELP.hearSpeed}
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
    </>
  );
};
