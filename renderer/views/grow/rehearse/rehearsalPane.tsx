import './rehearsal.css';
import type { ComponentChildren } from 'preact';
import { afterThe, partName } from '../../../../core/plan/partList.ts';
import type { Plan } from '../../../../core/plan/plan.ts';
import type { OwnPart } from '../../../../core/rehearse/accompanied.ts';
import { barWords } from '../../../../core/rehearse/toMend.ts';
import { SPEED_RANGE } from '../../../../core/rehearse/tolerances.ts';
import type { Score } from '../../../../core/score/score.ts';
import { useApp } from '../../../desk/appContext.ts';
import {
  barsToRehearse,
  ownPart,
  practise,
  rehearse,
  setRehearsal,
} from '../../../desk/commands/rehearsal.ts';
import { BeatCount } from '../../parts/beatCount.tsx';
import { SentenceChoice, SentenceNumber } from '../../parts/sentence.tsx';
import { NoticedLegend, NoticedLines } from './noticedList.tsx';
import { KeptPlayings } from './keptPlayings.tsx';
import { PlayerParts } from './players.tsx';

const OWN: readonly { readonly value: OwnPart; readonly text: string }[] = [
  { value: 'left out', text: 'is left to me' },
  { value: 'as written', text: 'sounds too' },
  { value: 'louder', text: 'sounds louder' },
  { value: 'alone', text: 'sounds alone' },
];

/** What is rehearsed and how, as sentences. */
const Settings = (props: { plan: Plan; score: Score }): ComponentChildren => {
  const { desk } = useApp();
  const { plan, score } = props;
  const settings = desk.rehearsal.value;
  const { first, last } = barsToRehearse(settings, score.barCount);
  const isWhole = first === 0 && last === score.barCount - 1;
  const bars = score.parts[0]?.bars ?? [];
  const numbered = bars.map((bar, i) => ({ value: String(i), text: barWords(bar.number) }));
  return (
    <div class="sentences small rehearsal-settings">
      <SentenceChoice
        before="I play the"
        value={ownPart(plan, settings)?.id ?? ''}
        choices={plan.parts.map(part => ({ value: part.id, text: afterThe(partName(plan, part)) }))}
        after="."
        onChoose={part => {
          desk.run(setRehearsal, { part });
        }}
      />
      <SentenceChoice
        before="My part"
        value={settings.own}
        choices={OWN}
        after="."
        onChoose={value => {
          desk.run(setRehearsal, { own: value as OwnPart });
        }}
      />
      <span class="sentence-group">
        <SentenceChoice
          before="From"
          value={String(first)}
          choices={numbered}
          onChoose={value => {
            const from = Number(value);
            desk.run(setRehearsal, { bars: { first: from, last: Math.max(from, last) } });
          }}
        />
        <SentenceChoice
          before="to"
          value={String(last)}
          choices={numbered}
          after=","
          onChoose={value => {
            const to = Number(value);
            desk.run(setRehearsal, { bars: { first: Math.min(first, to), last: to } });
          }}
        />
        <SentenceChoice
          before=""
          value={settings.loop ? 'loop' : 'once'}
          choices={[
            { value: 'once', text: 'once' },
            { value: 'loop', text: 'over and over' },
          ]}
          after="."
          onChoose={value => {
            desk.run(setRehearsal, { loop: value === 'loop' });
          }}
        />
      </span>
      <SentenceNumber
        before="At"
        after="% of the speed"
        value={settings.speed}
        least={SPEED_RANGE.least}
        most={SPEED_RANGE.most}
        step={10}
        onChoose={speed => {
          desk.run(setRehearsal, { speed });
        }}
      />
      <SentenceChoice
        before="After the count"
        value={settings.click ? 'click' : 'none'}
        choices={[
          { value: 'click', text: 'the click goes on' },
          { value: 'none', text: 'no click' },
        ]}
        after="."
        onChoose={value => {
          desk.run(setRehearsal, { click: value === 'click' });
        }}
      />
      <SentenceChoice
        before="Bars to strike on the screen:"
        value={settings.screenBars ? 'shown' : 'none'}
        choices={[
          { value: 'none', text: 'none' },
          { value: 'shown', text: 'shown' },
        ]}
        after="."
        onChoose={value => {
          desk.run(setRehearsal, { screenBars: value === 'shown' });
        }}
      />
      {isWhole ? null : (
        <button
          class="tool"
          onClick={() => {
            desk.run(setRehearsal, { bars: undefined, loop: false });
          }}
        >
          The whole piece
        </button>
      )}
      <PlayerParts plan={plan} />
      {desk.roomEar.value?.through === 'loudspeaker' ? (
        <p class="quiet">
          Bars in the room are heard here with headphones only: the piece itself sounds too.
        </p>
      ) : null}
    </div>
  );
};

/** What was noticed, kindly: a sentence a part, the bar to practise, and where the signs are explained. */
const Outcome = (props: { plan: Plan; score: Score }): ComponentChildren => {
  const { desk, rehearsing } = useApp();
  const playing = desk.rehearsed.value;
  if (playing === undefined) return null;
  const [first] = playing.parts.filter(part => part.said.practise !== undefined);
  const bar = first?.said.practise;
  const number = props.score.parts[0]?.bars[bar ?? 0]?.number ?? 1;
  const isTold = playing.parts.some(part => part.strikes.length > 0);
  const isKept = desk.isPlayingKept.value;
  const late = playing.parts.find(part => part.device !== undefined)?.device;
  return (
    <section class="rehearsal-outcome" aria-label="How it went">
      <div aria-live="polite">
        {playing.parts.map(part => {
          const named = props.plan.parts.find(one => one.id === part.part);
          const several = playing.parts.length > 1 && named !== undefined;
          return (
            <p key={part.part}>
              {several ? <b>{partName(props.plan, named)}: </b> : null}
              {part.said.sentence}
            </p>
          );
        })}
        {late === undefined ? null : (
          <p class="quiet">
            Everything came about {Math.abs(late)} ms {late > 0 ? 'late' : 'early'}, all alike: that may be
            the device. It can be lined up with the click, in Play under More settings.
          </p>
        )}
      </div>
      {bar === undefined ? null : (
        <button
          class="second"
          onClick={() => {
            desk.run(practise, bar);
            rehearsing.start();
          }}
        >
          Practise {barWords(number)}, slower
        </button>
      )}
      {isTold ? (
        <button
          class="tool"
          disabled={isKept}
          onClick={() => {
            rehearsing.keep();
          }}
        >
          {isKept ? 'Kept' : 'Keep what was played'}
        </button>
      ) : null}
      {isTold ? <NoticedLegend playing={playing} /> : null}
      {first === undefined || bar === undefined ? null : (
        <NoticedLines score={props.score} part={first} bar={bar} />
      )}
      {playing.times > 1 ? (
        <p class="quiet">
          This is time {playing.time} of {playing.times}.
        </p>
      ) : null}
    </section>
  );
};

/** Rehearsing what was written: which part, how, and how it went; in place of the cards. */
export const RehearsalPane = (props: { plan: Plan; score: Score }): ComponentChildren => {
  const { desk, listening } = useApp();
  const isGoing = desk.hearing.value?.what === 'rehearsal';
  return (
    <aside class="beside pane rehearsal" aria-label="Rehearse">
      <div class="rehearsal-head">
        <h2>Rehearse</h2>
        <button
          class="tool"
          onClick={() => {
            listening.stop();
            desk.run(rehearse, false);
          }}
        >
          Back to the cards
        </button>
      </div>
      <div class="rehearsal-scroll">
        {/* Its place is there before it counts: nothing moves when the playing begins. */}
        <div class="rehearsal-beats">
          {isGoing ? (
            <BeatCount score={props.score} class="rehearsal-count" />
          ) : desk.rehearsed.value === undefined ? (
            <p class="quiet">A bar is counted here before the music begins.</p>
          ) : null}
        </div>
        <Outcome plan={props.plan} score={props.score} />
        <Settings plan={props.plan} score={props.score} />
        <KeptPlayings score={props.score} />
      </div>
    </aside>
  );
};
