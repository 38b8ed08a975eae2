import type { ComponentChildren } from 'preact';
import { STAVE_HEIGHTS } from '../../page/options.ts';
import type { Under } from '../../page/under.ts';
import { paper } from '../../store/paper.ts';
import { SentenceChoice } from '../parts/sentence.tsx';

const ROWS: readonly { readonly under: readonly Under[]; readonly text: string }[] = [
  { under: [], text: 'nothing' },
  { under: ['letters'], text: 'letter names' },
  { under: ['counts'], text: 'counts' },
  { under: ['syllables'], text: 'rhythm syllables' },
  { under: ['letters', 'counts'], text: 'letter names and counts' },
  { under: ['letters', 'syllables'], text: 'letter names and syllables' },
];

/** How print and PDF look. */
export const PaperChoice = (): ComponentChildren => (
  <>
    <SentenceChoice
      before="Stave height:"
      value={String(paper.value.staveHeight)}
      choices={STAVE_HEIGHTS.map(mm => ({
        value: String(mm),
        text: `${String(mm)} mm${mm === 7 ? '' : ', large print'}`,
      }))}
      onChoose={value => {
        const staveHeight = STAVE_HEIGHTS.find(mm => String(mm) === value);
        if (staveHeight !== undefined) paper.value = { ...paper.value, staveHeight };
      }}
    />
    <SentenceChoice
      before="Under the notes:"
      value={paper.value.under.join()}
      choices={ROWS.map(({ under, text }) => ({ value: under.join(), text }))}
      onChoose={value => {
        const row = ROWS.find(({ under }) => under.join() === value);
        if (row !== undefined) paper.value = { ...paper.value, under: row.under };
      }}
    />
  </>
);
