import type { ComponentChildren } from 'preact';
import { partName } from '../../../core/plan/partList.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { useApp } from '../../desk/appContext.ts';
import { ownPart, setRehearsal } from '../../desk/commands/rehearsal.ts';
import type { DeskState } from '../../desk/state.ts';
import { NoticedRow, noticedHeight } from '../grow/rehearse/noticedRow.tsx';
import { RehearsalBars } from '../grow/rehearse/rehearsalBars.tsx';
import { InWords } from '../parts/inWords.tsx';
import { pageScale, ScorePage } from '../parts/scorePage.tsx';
import { HeardCursor } from './heardCursor.tsx';
import { PupilFrame, type WayBack } from './pupilFrame.tsx';
import type { PupilTexts } from './texts/english.ts';
import { usePupilTexts } from './texts/pupilTexts.ts';

/** The one thing to do now: wait for the count, play, or what came of it. */
export const alongWords = ({ live }: Pick<DeskState, 'live'>, words: PupilTexts['words']): string => {
  const { hearing, cursor, rehearsed } = live;
  if (hearing?.what === 'rehearsal')
    return (cursor ?? -Infinity) < (hearing.startsAt ?? 0) ? words.counted : words.playing;
  if (rehearsed === undefined) return words.along;
  const struck = rehearsed.playing.parts.filter(part => part.strikes.length > 0);
  if (struck.length === 0) return words.silent;
  const all = struck.flatMap(part => part.noticed.map(one => one.kind === 'in place'));
  if (!all.includes(true)) return words.listen;
  return all.includes(false) ? words.mend : words.allWell;
};

/** Which part a pupil plays, where there are several. */
const PartButtons = (props: { plan: Plan }): ComponentChildren => {
  const { desk } = useApp();
  const texts = usePupilTexts();
  const { plan } = props;
  if (plan.parts.length < 2) return null;
  const mine = ownPart(plan, desk.rehearsal.value)?.id;
  return (
    <div class="pupil-parts" role="group" aria-label={texts.labels.iPlay}>
      {plan.parts.map(part => (
        <button
          key={part.id}
          class="second"
          aria-pressed={part.id === mine}
          disabled={desk.hearing.value !== undefined}
          onClick={() => {
            desk.run(setRehearsal, { part: part.id });
          }}
        >
          {part.id === mine ? <span aria-hidden="true">✓ </span> : null}
          {partName(plan, part)}
        </button>
      ))}
    </div>
  );
};

/** A pupil plays along: counted in, with bars to strike under the page; signs under the notes say how it went. */
export const AlongStep = (props: { back: WayBack }): ComponentChildren => {
  const { desk, listening, rehearsing } = useApp();
  const texts = usePupilTexts();
  const plan = desk.plan.value;
  const score = desk.growScore.value;
  if (plan === undefined || score === undefined) return null;
  const hasNoticed = desk.rehearsed.value?.parts.some(part => part.strikes.length > 0) === true;
  const instruction = alongWords(
    {
      live: {
        ...desk.now().live,
        hearing: desk.hearing.value,
        cursor: desk.cursor.value,
        // Only while the page is the one it was played from.
        rehearsed: desk.rehearsed.value === undefined ? undefined : desk.now().live.rehearsed,
      },
    },
    texts.words,
  );
  return (
    <PupilFrame
      back={props.back}
      instruction={instruction}
      hear={() => {
        listening.score('piece', score);
      }}
      action={
        <button
          class="main-action"
          disabled={desk.hearing.value !== undefined}
          onClick={event => {
            // Not on a button: letters strike bars now, and Space stops.
            event.currentTarget.blur();
            rehearsing.start();
          }}
        >
          {texts.buttons.along}
        </button>
      }
    >
      <PartButtons plan={plan} />
      <section class="sheet pupil-page" aria-label={texts.labels.page}>
        <div class="scroll">
          <ScorePage
            score={score}
            options={{
              above: 4,
              below: noticedHeight(hasNoticed),
              names: true,
              tempo: false,
              scale: pageScale(0.9),
            }}
            label={texts.labels.pieceInNotes}
            overlay={systems => (
              <>
                <HeardCursor systems={systems} />
                <NoticedRow systems={systems} above={0} />
              </>
            )}
          />
          <div lang="en-GB">
            <InWords score={score} isUnseen />
          </div>
        </div>
      </section>
      <RehearsalBars plan={plan} />
    </PupilFrame>
  );
};
