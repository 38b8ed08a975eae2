import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';
import { nameIt } from '../../desk/commands/open.ts';
import { nextPupil } from '../../desk/commands/pupils.ts';
import { playWhole } from '../../desk/commands/rehearsal.ts';
import { InWords } from '../parts/inWords.tsx';
import { pageScale, ScorePage } from '../parts/scorePage.tsx';
import { TYPING_PAUSE, useTyping } from '../parts/typing.ts';
import { HeardCursor } from './heardCursor.tsx';
import { PupilFrame, type WayBack } from './pupilFrame.tsx';
import { usePupilTexts } from './texts/pupilTexts.ts';

const PAGE = { above: 24, below: 4, names: true, tempo: false } as const;

/** What the piece is called, to be typed over. */
const TuneName = (props: { title: string }): ComponentChildren => {
  const { desk } = useApp();
  const texts = usePupilTexts();
  const typing = useTyping(
    props.title,
    (typed, goesOn, before) => {
      if (typed.trim() !== '') desk.run(nameIt, typed.trim(), goesOn ? before : undefined);
    },
    TYPING_PAUSE,
  );
  return (
    <label class="piece-name">
      {texts.labels.called}
      <input {...typing} maxLength={80} autocomplete="off" />
    </label>
  );
};

/** The piece gets its name and is kept; then the next pupil plays. */
export const KeepStep = (props: { back: WayBack }): ComponentChildren => {
  const { desk, keeper, listening } = useApp();
  const texts = usePupilTexts();
  const piece = desk.piece.value;
  const score = desk.growScore.value;
  if (piece === undefined || score === undefined) return null;
  const isKept = desk.isKept.value;
  return (
    <PupilFrame
      back={props.back}
      instruction={isKept ? texts.words.kept : texts.words.name}
      hear={() => {
        listening.score('piece', score);
      }}
      action={
        <>
          <button
            class="second"
            onClick={() => {
              listening.stop();
              desk.run(playWhole);
            }}
          >
            {texts.buttons.along}
          </button>
          {isKept ? (
            <button
              class="second other-cards"
              onClick={() => {
                listening.stop();
                desk.run(nextPupil);
              }}
            >
              {texts.buttons.next}
            </button>
          ) : (
            <button class="main-action" onClick={() => void keeper.keep()}>
              {texts.buttons.keep}
            </button>
          )}
        </>
      }
    >
      <TuneName title={piece.title} />
      <section class="sheet pupil-page" aria-label={texts.labels.page}>
        <div class="scroll">
          <ScorePage
            score={score}
            options={{ ...PAGE, scale: pageScale(0.9) }}
            label={texts.labels.pieceInNotes}
            overlay={systems => <HeardCursor systems={systems} />}
          />
          <div lang="en-GB">
            <InWords score={score} isUnseen />
          </div>
        </div>
      </section>
    </PupilFrame>
  );
};
