import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { tactus } from '../../../core/foundation/metre.ts';
import { valueName, valueOf } from '../../../core/foundation/noteValue.ts';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { scoreLength } from '../../../core/playback/perform.ts';
import { numberedBars } from '../../../core/score/numberedBars.ts';
import { secondsAtOnset } from '../../../core/playback/seconds.ts';
import { findStatement } from '../../../core/plan/plan.ts';
import { useApp } from '../../desk/appContext.ts';
import { rehearse } from '../../desk/commands/rehearsal.ts';
import { selectStatement } from '../../desk/commands/settings.ts';
import { changePlan, keepTrial, leaveTrial } from '../../desk/commands/trial.ts';
import { Foot } from '../foot.tsx';
import { ProjectorButton } from '../parts/projectorButton.tsx';
import { PieceSentence } from '../pieceSentence.tsx';
import { SentenceNumber } from '../parts/sentence.tsx';
import { bringIntoSight } from '../parts/following.ts';
import { InWords } from '../parts/inWords.tsx';
import { ScorePage } from '../parts/scorePage.tsx';
import { useWindowHeight } from '../parts/windowHeight.ts';
import { Brackets } from './brackets.tsx';
import { Pane } from './pane.tsx';
import { NoticedRow, noticedHeight } from './rehearse/noticedRow.tsx';
import { RehearsalBars } from './rehearse/rehearsalBars.tsx';
import { RehearsalPane } from './rehearse/rehearsalPane.tsx';
import { HANDLE_ROOM, PartHandles } from './partHandles.tsx';
import { BRACKETS, growScale } from './growScale.ts';
import { PartsPanel } from './partsPanel.tsx';
import { PlayablePanel, playableWords } from './playable.tsx';
import { triedFrom } from './triedFrom.ts';
import { stickingHeight, StickingRow } from './stickingRow.tsx';
import { HELP } from '../help/helpWords.ts';

const PAGE = {
  above: BRACKETS,
  below: 0,
  names: false,
  nameRoom: HANDLE_ROOM,
  besideClef: true,
  tempo: true,
} as const;
/** How far over the notes a bracket stands: its words lie about its line. */
const BRACKET_RISE = 20;

/** What is tried is written in or left: two buttons that are always there. */
const TrialAnswer = (): ComponentChildren => {
  const { desk } = useApp();
  const trying = desk.trial.value !== undefined;
  return (
    <>
      <button
        class="second"
        disabled={!trying && desk.refused.value === undefined}
        title="Escape"
        onClick={() => {
          desk.run(leaveTrial);
        }}
      >
        Leave it
      </button>
      <button
        class="main-action"
        disabled={!trying}
        onClick={() => {
          desk.run(keepTrial);
        }}
      >
        Write it in
      </button>
    </>
  );
};

/** Counts a bar and plays, with one part left to whoever strikes. */
const PlayAlong = (): ComponentChildren => {
  const { rehearsing } = useApp();
  return (
    <button
      class="main-action"
      title="Space plays along and stops"
      onClick={event => {
        // Not on a field or a button: letters strike bars now, and Space stops.
        event.currentTarget.blur();
        rehearsing.start();
      }}
    >
      Play along
    </button>
  );
};

/** Grow: the score as its own plan, with a bracket for every statement, and the treatments beside it. */
export const Grow = (): ComponentChildren => {
  const { desk, listening } = useApp();
  const now = desk.piece.value;
  const motif = desk.motif.value;
  const kept = desk.plan.value;
  const plan = desk.shownPlan.value;
  const score = desk.growScore.value;
  const [fromBar, setFromBar] = useState(1);
  const [finding, setFinding] = useState(false);
  const isRehearsing = desk.isRehearsing.value;
  const hasNoticed = desk.rehearsed.value?.parts.some(part => part.strikes.length > 0) === true;
  const [partsOpen, setPartsOpen] = useState(false);
  const [playableOpen, setPlayableOpen] = useState(false);
  const windowHeight = useWindowHeight();
  const trying = desk.trial.value;
  const playing = desk.rehearsed.value;
  useEffect(() => {
    // What was noticed may stand far up the page, which has followed the music.
    const sign = document.querySelector('.over .noticed');
    if (sign !== null) bringIntoSight(sign);
  }, [playing]);
  if (
    now === undefined ||
    motif === undefined ||
    kept === undefined ||
    plan === undefined ||
    score === undefined
  ) {
    return <p class="empty">Nothing to grow yet. Catch an idea in Play and use its motif in Write.</p>;
  }
  const chosen = findStatement(kept, desk.selectedStatement.value ?? '') ?? kept.statements[0];
  const first = Math.min(fromBar, score.barCount);
  const bars = numberedBars(score);
  const start = toNumber(score.parts[0]?.bars[first - 1]?.start ?? { n: 0, d: 1 });
  const seconds = Math.round(secondsAtOnset(score, scoreLength(score)));
  const unit = valueName(valueOf(tactus(score.metre)) ?? { base: 4, dots: 0 }, desk.nameStyle.value);
  return (
    <>
      <PieceSentence does={`has ${String(bars)} ${bars === 1 ? 'bar' : 'bars'}, ${String(seconds)} seconds,`}>
        <SentenceNumber
          before={`at ${unit} =`}
          help={HELP.tempo}
          value={Math.round(plan.tempo)}
          least={20}
          most={300}
          onChoose={tempo => {
            desk.run(changePlan, `${unit} = ${String(tempo)}`, old => ({ ...old, tempo }));
          }}
        />
        <span class="grow-space" />
        <button
          class="second"
          aria-label="Find an entry for another part"
          aria-pressed={finding && !isRehearsing}
          onClick={() => {
            listening.stop();
            desk.run(rehearse, false);
            desk.run(leaveTrial);
            setFinding(isRehearsing || !finding);
          }}
        >
          Find an entry
        </button>
        <button
          class="second"
          aria-expanded={partsOpen}
          onClick={() => {
            setPartsOpen(!partsOpen);
            setPlayableOpen(false);
          }}
        >
          Parts and bars
        </button>
        <button
          class="second"
          aria-expanded={playableOpen}
          onClick={() => {
            setPlayableOpen(!playableOpen);
            setPartsOpen(false);
          }}
        >
          {playableWords(desk.playable.value?.count ?? 0)}
        </button>
        <ProjectorButton class="second" />
      </PieceSentence>
      <div class="two-columns">
        <section class="sheet grow-sheet" aria-label="The score">
          <div class="scroll">
            <ScorePage
              score={score}
              options={{
                ...PAGE,
                ...desk.screenPage.value,
                below: PAGE.below + stickingHeight(desk.stickingShown.value) + noticedHeight(hasNoticed),
                scale: growScale(score.parts.length, windowHeight, desk.screenPage.value.under.length > 0),
                close: score.parts.length > 2,
              }}
              label="The score; the same in words follows it"
              onLaid={systems => {
                // What is tried may stand far down the page; a change that holds from a bar on has no bracket of its own.
                if (trying === undefined) return;
                const { holds, isStatement } = triedFrom(motif, kept, trying.plan, trying.statement);
                const there = isStatement
                  ? document.querySelector('.bracket.tried')
                  : systems.find(system => toNumber(holds) < system.to - 1e-9)?.element;
                if (there) bringIntoSight(there);
              }}
              onNote={refs => {
                const [id, time, index] = refs[0]?.split(':') ?? [];
                if (id === undefined || findStatement(kept, id) === undefined) return;
                desk.run(selectStatement, id, { statement: id, index: Number(index), time: Number(time) });
              }}
              overlay={systems => (
                <>
                  <PartHandles systems={systems} plan={kept} shown={plan} />
                  <Brackets
                    systems={systems}
                    rise={BRACKET_RISE}
                    score={score}
                    chosen={chosen?.id}
                    tried={desk.trial.value?.statement}
                    onChoose={id => {
                      if (findStatement(kept, id) !== undefined) desk.run(selectStatement, id);
                    }}
                  />
                  <StickingRow systems={systems} />
                  <NoticedRow systems={systems} above={stickingHeight(desk.stickingShown.value)} />
                </>
              )}
            />
            <InWords score={score} />
          </div>
          {isRehearsing && desk.rehearsal.value.screenBars ? <RehearsalBars plan={plan} /> : null}
          {partsOpen ? <PartsPanel plan={kept} bars={score.barCount} /> : null}
          {playableOpen ? <PlayablePanel /> : null}
        </section>
        {isRehearsing ? (
          <RehearsalPane plan={plan} score={score} />
        ) : chosen === undefined ? null : (
          <Pane
            key={chosen.id}
            motif={motif}
            plan={kept}
            statement={chosen}
            tempo={plan.tempo}
            finding={finding}
            onCards={() => {
              setFinding(false);
            }}
            hearPreview={() => {
              const tried = desk.trial.peek();
              if (tried === undefined) return;
              const { heard: from } = triedFrom(motif, kept, tried.plan, tried.statement);
              const heard = desk.growScore.peek();
              if (heard !== undefined) listening.score('preview', heard, { from: toNumber(from) });
            }}
          />
        )}
      </div>
      <Foot
        hear={() => {
          listening.score('piece', score, { from: start });
        }}
        action={isRehearsing ? <PlayAlong /> : <TrialAnswer />}
      >
        <SentenceNumber
          before="Hear it from bar"
          help={HELP.fromBar}
          value={first}
          least={1}
          most={score.barCount}
          onChoose={setFromBar}
        />
        <button
          class="tool rehearse-button"
          aria-pressed={isRehearsing}
          title="Play along, with one part left to you"
          onClick={() => {
            listening.stop();
            desk.run(rehearse, !isRehearsing);
          }}
        >
          Rehearse
        </button>
      </Foot>
    </>
  );
};
