import type { ComponentChildren } from 'preact';
import { STAVE_HEIGHTS, type StaveHeight } from '../page/options.ts';
import type { Under } from '../page/under.ts';
import { screenPage } from '../store/screenPage.ts';
import { SentenceChoice } from './parts/sentence.tsx';

const ROWS: readonly { readonly value: string; readonly text: string }[] = [
  { value: '', text: 'nothing' },
  { value: 'letters', text: 'letter names' },
  { value: 'counts', text: 'counts' },
  { value: 'syllables', text: 'rhythm syllables' },
  { value: 'letters,counts', text: 'letter names and counts' },
  { value: 'letters,syllables', text: 'letter names and rhythm syllables' },
];

/** How large staves are on the screen, and what stands under the notes. */
export const ScreenChoice = (): ComponentChildren => {
  const now = screenPage.value;
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
          screenPage.value = { ...now, staveHeight };
        }}
      />
      <SentenceChoice
        before="Under the notes:"
        value={now.under.join(',')}
        choices={ROWS}
        onChoose={value => {
          screenPage.value = { ...now, under: value === '' ? [] : (value.split(',') as Under[]) };
        }}
      />
    </>
  );
};
