import type { ComponentChildren } from 'preact';
import { useApp } from '../../desk/appContext.ts';
import { nameIt } from '../../desk/commands/open.ts';
import { nextPupil } from '../../desk/commands/pupils.ts';
import { playWhole } from '../../desk/commands/rehearsal.ts';
import { InWords } from '../parts/inWords.tsx';
import { pageScale, ScorePage } from '../parts/scorePage.tsx';
import { useTyping } from '../parts/typing.ts';
import { HeardCursor } from './heardCursor.tsx';
import { PupilFrame, type WayBack } from './pupilFrame.tsx';
import { PUPIL_BUTTONS, PUPIL_WORDS } from './pupilWords.ts';

const PAGE = { above: 24, below: 4, names: true, tempo: false } as const;

/** What the piece is called, to be typed over. */
const TuneName = (props: { title: string }): ComponentChildren => {
  const { desk } = useApp();
  const typing = useTyping(props.title, typed => {
    if (typed.trim() !== '') desk.run(nameIt, typed.trim());
  });
  return (
    <label class="piece-name">
      My tune is called
      <input {...typing} maxLength={80} autocomplete="off" />
    </label>
  );
};

/** The piece gets its name and is kept; then the next pupil plays. */
export const KeepStep = (props: { back: WayBack }): ComponentChildren => {
  const { desk, keeper, listening } = useApp();
  const piece = desk.piece.value;
  const score = desk.growScore.value;
  if (piece === undefined || score === undefined) return null;
  const isKept = desk.isKept.value;
  return (
    <PupilFrame
      back={props.back}
      instruction={isKept ? PUPIL_WORDS.kept : PUPIL_WORDS.name}
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
            {PUPIL_BUTTONS.along}
          </button>
          {isKept ? (
            <button
              class="second other-cards"
              onClick={() => {
                listening.stop();
                desk.run(nextPupil);
              }}
            >
              {PUPIL_BUTTONS.next}
            </button>
          ) : (
            <button class="main-action" onClick={() => void keeper.keep()}>
              {PUPIL_BUTTONS.keep}
            </button>
          )}
        </>
      }
    >
      <TuneName title={piece.title} />
      <section class="sheet pupil-page" aria-label="The page">
        <div class="scroll">
          <ScorePage
            score={score}
            options={{ ...PAGE, scale: pageScale(0.9) }}
            label="Your piece in notation; the same in words follows it"
            overlay={systems => <HeardCursor systems={systems} />}
          />
          <InWords score={score} isUnseen />
        </div>
      </section>
    </PupilFrame>
  );
};
