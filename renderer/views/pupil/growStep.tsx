import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { corrected, pieceScore } from '../../../core/piece/piece.ts';
import { isRhythmOnly } from '../../../core/piece/rhythmOnly.ts';
import { findStatement } from '../../../core/plan/plan.ts';
import { useApp } from '../../desk/appContext.ts';
import { lastStepGrew } from '../../desk/commands/lastGrowth.ts';
import { goTo } from '../../desk/commands/settings.ts';
import { undoStep } from '../../desk/commands/step.ts';
import { keepTrial, leaveTrial, tryStep } from '../../desk/commands/trial.ts';
import { Brackets } from '../grow/brackets.tsx';
import { InWords } from '../parts/inWords.tsx';
import { pageScale, ScorePage } from '../parts/scorePage.tsx';
import { CardPicture } from './cardPicture.tsx';
import { cardsOfTurn, isOfPitches, type PupilCard } from './pupilCards.ts';
import { PupilFrame, type WayBack } from './pupilFrame.tsx';
import { ENGLISH } from './texts/english.ts';
import { usePupilTexts } from './texts/pupilTexts.ts';

const PAGE = { above: 34, below: 4, names: true, tempo: false } as const;

/** The tune grows: a card is tried by pressing it, heard at once, and written in or not. */
export const GrowStep = (props: { back: WayBack }): ComponentChildren => {
  const { desk, asking, listening } = useApp();
  const texts = usePupilTexts();
  const [turn, setTurn] = useState(0);
  const [pressed, setPressed] = useState('');
  const piece = desk.piece.value;
  const motif = desk.motif.value;
  const plan = desk.plan.value;
  const score = desk.growScore.value;
  const trying = desk.trial.value !== undefined;
  const cards = cardsOfTurn(turn);
  /** What would be refused cannot be pressed: the first try never meets a refusal. */
  const fitting = useMemo(() => {
    const now = desk.now();
    return new Set(
      cards.flatMap(card => {
        if (piece !== undefined && isOfPitches(card) && isRhythmOnly(corrected(piece))) return [];
        const made = motif === undefined || plan === undefined ? undefined : card.growth(motif, plan);
        const tried = made === undefined ? undefined : tryStep(now, card.id, made);
        return tried?.ok === true && tried.value.live.trial !== undefined ? [card.id] : [];
      }),
    );
  }, [piece, turn]);
  if (piece === undefined || motif === undefined || plan === undefined || score === undefined) return null;

  const press = (card: PupilCard): void => {
    const isTried = trying && pressed === card.id;
    const made = card.growth(motif, plan);
    if (isTried || made === undefined) {
      listening.stop();
      desk.run(leaveTrial);
      return;
    }
    setPressed(card.id);
    desk.run(tryStep, ENGLISH.cards[card.id].title.toLowerCase(), made);
    const tried = desk.trial.peek();
    if (tried === undefined) return;
    const statement = findStatement(tried.plan, tried.statement);
    listening.score('preview', pieceScore(piece, tried.plan), {
      from: toNumber(statement?.onset ?? { n: 0, d: 1 }),
    });
  };
  const back: WayBack = lastStepGrew(desk.now())
    ? {
        text: texts.buttons.takeBack,
        go: () => {
          listening.stop();
          desk.run(leaveTrial);
          asking.afterwards(undoStep);
        },
      }
    : props.back;
  return (
    <PupilFrame
      back={back}
      instruction={trying ? texts.words.trying : fitting.size === 0 ? texts.words.full : texts.words.grow}
      hear={() => {
        listening.score('piece', score);
      }}
      action={
        <>
          <button
            class="second"
            disabled={trying}
            onClick={() => {
              listening.stop();
              desk.run(goTo, 'keep');
            }}
          >
            {texts.buttons.done}
          </button>
          <button
            class={trying ? 'main-action' : 'second other-cards'}
            onClick={() => {
              if (trying) desk.run(keepTrial);
              setTurn(turn + 1);
            }}
          >
            {trying ? texts.buttons.writeIn : texts.buttons.otherCards}
          </button>
        </>
      }
    >
      <section class="sheet pupil-page" aria-label={texts.labels.page}>
        <div class="scroll">
          <ScorePage
            score={score}
            options={{ ...PAGE, scale: pageScale(0.9) }}
            label={texts.labels.pieceInNotes}
            overlay={systems => (
              <Brackets
                systems={systems}
                score={score}
                chosen={undefined}
                tried={desk.trial.value?.statement}
              />
            )}
          />
          <div lang="en-GB">
            <InWords score={score} isUnseen />
          </div>
        </div>
      </section>
      <ul class="pupil-cards">
        {cards.map(card => {
          const isTried = trying && pressed === card.id;
          return (
            <li key={card.id}>
              <button
                class={`pupil-card${isTried ? ' chosen' : ''}`}
                aria-pressed={isTried}
                disabled={!fitting.has(card.id)}
                onClick={() => {
                  press(card);
                }}
              >
                <CardPicture motif={motif} card={card} />
                <b>
                  {texts.cards[card.id].title}
                  {isTried ? <span class="on-page">✓ {texts.labels.onPage}</span> : null}
                </b>
                <span>{texts.cards[card.id].words}</span>
              </button>
            </li>
          );
        })}
      </ul>
    </PupilFrame>
  );
};
