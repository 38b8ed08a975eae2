import type { ComponentChildren } from 'preact';
import { STAVE_HEIGHTS, type StaveHeight } from '../page/options.ts';
import { useApp } from '../desk/appContext.ts';
import { set } from '../desk/commands/settings.ts';
import { rowsOf, UNDER_CHOICES } from './parts/underChoices.ts';
import { SentenceChoice } from './parts/sentence.tsx';

/** How large staves are on the screen, and what stands under the notes. */
export const ScreenChoice = (): ComponentChildren => {
  const { desk } = useApp();
  const now = desk.screenPage.value;
  return (
    <>
      <SentenceChoice
        before="Staves on the screen:"
        value={now.staveHeight === undefined ? '' : String(now.staveHeight)}
        choices={[
          { value: '', text: 'as the window allows' },
          ...STAVE_HEIGHTS.map(mm => ({ value: String(mm), text: `${String(mm)} mm high` })),
        ]}
        onChoose={value => {
          const staveHeight = value === '' ? undefined : (Number(value) as StaveHeight);
          desk.run(set, { screenPage: { ...now, staveHeight } });
        }}
      />
      <SentenceChoice
        before="Under the notes:"
        value={now.under.join(',')}
        choices={UNDER_CHOICES}
        onChoose={value => {
          desk.run(set, { screenPage: { ...now, under: rowsOf(value) } });
        }}
      />
    </>
  );
};
