import type { ComponentChildren } from 'preact';
import { STAVE_HEIGHTS } from '../../page/options.ts';
import { useApp } from '../../desk/appContext.ts';
import { set } from '../../desk/commands/settings.ts';
import { rowsOf, UNDER_CHOICES } from '../parts/underChoices.ts';
import { SentenceChoice } from '../parts/sentence.tsx';
import { HELP } from '../help/helpWords.ts';

/** How print and PDF look. */
export const PaperChoice = (): ComponentChildren => {
  const { desk } = useApp();
  const paper = desk.paper.value;
  return (
    <>
      <SentenceChoice
        before="Stave height:"
        help={HELP.paper}
        value={String(paper.staveHeight)}
        choices={STAVE_HEIGHTS.map(mm => ({
          value: String(mm),
          text: `${String(mm)} mm${mm === 7 ? '' : ', large print'}`,
        }))}
        onChoose={value => {
          const staveHeight = STAVE_HEIGHTS.find(mm => String(mm) === value);
          if (staveHeight !== undefined) desk.run(set, { paper: { ...paper, staveHeight } });
        }}
      />
      <SentenceChoice
        before="Under the notes:"
        help={HELP.under}
        value={paper.under.join()}
        choices={UNDER_CHOICES}
        onChoose={value => {
          desk.run(set, { paper: { ...paper, under: rowsOf(value) } });
        }}
      />
      <SentenceChoice
        before="Repeats:"
        help={HELP.repeats}
        value={desk.repeatBars.value ? 'bars' : 'out'}
        choices={[
          { value: 'out', text: 'written out' },
          { value: 'bars', text: 'as repeat bars' },
        ]}
        onChoose={value => {
          desk.run(set, { repeatBars: value === 'bars' });
        }}
      />
    </>
  );
};
