import type { ComponentChildren } from 'preact';
import { inputNow } from '../../desk/acts/striking.ts';
import { useApp } from '../../desk/appContext.ts';
import { Bars } from '../play/bars.tsx';
import { useCaught } from '../play/useCaught.ts';
import { PupilFrame, type WayBack } from './pupilFrame.tsx';
import { usePupilTexts } from './texts/pupilTexts.ts';

/** A tune is played, heard again, and caught. */
export const PlayStep = (props: { back: WayBack }): ComponentChildren => {
  const { desk, listening, striking } = useApp();
  const texts = usePupilTexts();
  const { instrument, mallets } = desk.playSettings.value;
  const wanted = useCaught(inputNow());
  const canCatch = wanted.length > 0;
  return (
    <PupilFrame
      back={props.back}
      instruction={canCatch ? texts.words.catch : texts.words.play}
      hear={
        canCatch
          ? () => {
              listening.struck(
                wanted.flatMap(phrase => phrase.strikes),
                instrument,
                mallets[instrument],
              );
            }
          : undefined
      }
      action={
        <button
          class="main-action"
          disabled={!canCatch}
          onClick={() => {
            striking.catchThat(texts.labels.untitled);
          }}
        >
          {texts.buttons.catch}
        </button>
      }
    >
      <Bars instrument={instrument} lifting={false} name={texts.labels.bars} />
    </PupilFrame>
  );
};
