import type { ComponentChildren } from 'preact';
import { METRES_TO_CHOOSE, metreInWords } from '../../../core/foundation/metre.ts';
import { useApp } from '../../desk/appContext.ts';
import { metreChosen } from '../../desk/commands/playing.ts';
import { setPlay } from '../../desk/commands/settings.ts';
import { HELP } from '../help/helpWords.ts';
import { SentenceChoice } from '../parts/sentence.tsx';

/** The metre of the click, or the one in which what is played without it is read. */
export const MetreChoice = (props: { before: string; after?: string }): ComponentChildren => {
  const { desk } = useApp();
  const play = desk.playSettings.value;
  const chosen = metreChosen({ play });
  return (
    <SentenceChoice
      {...props}
      help={HELP.playedMetre}
      value={chosen === undefined ? '' : metreInWords(chosen)}
      choices={[
        // A click counts in a metre.
        ...(play.clickOn ? [] : [{ value: '', text: 'any metre' }]),
        ...METRES_TO_CHOOSE.map(metreInWords).map(m => ({ value: m, text: m })),
      ]}
      onChoose={value => {
        const metre = METRES_TO_CHOOSE.find(m => metreInWords(m) === value);
        if (metre === undefined) desk.run(setPlay, { metreKnown: false });
        // One chosen for the click goes with the click.
        else desk.run(setPlay, play.clickOn ? { metre } : { metre, metreKnown: true });
      }}
    />
  );
};
