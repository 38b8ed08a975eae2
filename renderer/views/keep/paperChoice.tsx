import type { ComponentChildren } from 'preact';
import { STAVE_HEIGHTS } from '../../page/options.ts';
import { paper, repeatBars } from '../../store/paper.ts';
import { rowsOf, UNDER_CHOICES } from '../parts/underChoices.ts';
import { SentenceChoice } from '../parts/sentence.tsx';

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
      choices={UNDER_CHOICES}
      onChoose={value => {
        paper.value = { ...paper.value, under: rowsOf(value) };
      }}
    />
    <SentenceChoice
      before="Repeats:"
      value={repeatBars.value ? 'bars' : 'out'}
      choices={[
        { value: 'out', text: 'written out' },
        { value: 'bars', text: 'as repeat bars' },
      ]}
      onChoose={value => {
        repeatBars.value = value === 'bars';
      }}
    />
  </>
);
