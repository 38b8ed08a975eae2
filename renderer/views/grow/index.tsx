import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { tactus } from '../../../core/foundation/metre.ts';
import { valueName, valueOf } from '../../../core/foundation/noteValue.ts';
import { toNumber } from '../../../core/foundation/fraction.ts';
import { scoreLength, secondsAtOnset } from '../../../core/playback/perform.ts';
import { findStatement } from '../../../core/plan/plan.ts';
import { motifOf, pieceScore, planOf } from '../../../core/piece/piece.ts';
import {
  growScore,
  hearing,
  nameStyle,
  piece,
  preview,
  selectedPlanNote,
  selectedStatement,
  shownPlan,
} from '../../store/app.ts';
import { screenPage } from '../../store/screenPage.ts';
import { changePlan } from '../../store/develop.ts';
import type { Listening } from '../../store/hear.ts';
import { SentenceNumber } from '../parts/sentence.tsx';
import { InWords } from '../parts/inWords.tsx';
import { pageScale, ScorePage } from '../parts/scorePage.tsx';
import { Brackets } from './brackets.tsx';
import { Pane } from './pane.tsx';
import { PartsPanel } from './partsPanel.tsx';
import { PlayablePanel, playableWords } from './playable.tsx';
import { stickingRoom, StickingRow } from './stickingRow.tsx';

const PAGE = { above: 34, below: 4, names: true, tempo: true } as const;

/** Grow: the score as its own plan, with a bracket for every statement, and the treatments beside it. */
export const Grow = (props: { listening: Listening }): ComponentChildren => {
  const now = piece.value;
  const plan = shownPlan.value;
  const score = growScore.value;
  const [fromBar, setFromBar] = useState(1);
  const [partsOpen, setPartsOpen] = useState(false);
  const [playableOpen, setPlayableOpen] = useState(false);
  if (now === undefined || plan === undefined || score === undefined) {
    return <p class="empty">Nothing to grow yet. Catch an idea in Play and use its motif in Write.</p>;
  }
  const { listening } = props;
  const kept = planOf(now);
  const chosen = findStatement(kept, selectedStatement.value ?? '') ?? kept.statements[0];
  const first = Math.min(fromBar, score.barCount);
  const start = toNumber(score.parts[0]?.bars[first - 1]?.start ?? { n: 0, d: 1 });
  const seconds = Math.round(secondsAtOnset(score, scoreLength(score)));
  const unit = valueName(valueOf(tactus(score.metre)) ?? { base: 4, dots: 0 }, nameStyle.value);
  const playing = hearing.value !== undefined;
  return (
    <div class="two-columns">
      <section class="sheet" aria-label="The score">
        <div class="scroll">
          <ScorePage
            score={score}
            options={{
              ...PAGE,
              ...screenPage.value,
              below: PAGE.below + stickingRoom(),
              scale: pageScale(0.9),
            }}
            label="The score; the same in words follows it"
            onNote={refs => {
              const [id, , index] = refs[0]?.split(':') ?? [];
              if (id === undefined || findStatement(kept, id) === undefined) return;
              selectedStatement.value = id;
              selectedPlanNote.value = { statement: id, index: Number(index) };
            }}
            overlay={systems => (
              <>
                <Brackets
                  systems={systems}
                  score={score}
                  chosen={chosen?.id}
                  tried={preview.value?.statement}
                  onChoose={id => {
                    if (findStatement(kept, id) === undefined) return;
                    selectedStatement.value = id;
                    selectedPlanNote.value = undefined;
                  }}
                />
                <StickingRow systems={systems} />
              </>
            )}
          />
          <InWords score={score} />
        </div>
        {partsOpen ? <PartsPanel plan={kept} bars={score.barCount} unit={unit} /> : null}
        {playableOpen ? <PlayablePanel /> : null}
        <div class="foot">
          <button
            class="main-action"
            onClick={() => {
              if (playing) listening.stop();
              else listening.score('piece', score, { from: start });
            }}
          >
            {playing ? 'Stop' : 'Hear it'}
          </button>
          <SentenceNumber
            before={`${unit} =`}
            value={Math.round(plan.tempo)}
            least={20}
            most={300}
            onChoose={tempo => {
              changePlan(`${unit} = ${String(tempo)}`, old => ({ ...old, tempo }));
            }}
          />
          <SentenceNumber
            before="from bar"
            value={first}
            least={1}
            most={score.barCount}
            onChoose={setFromBar}
          />
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
            {playableWords()}
          </button>
          <span class="quiet grow-length">
            {score.barCount} {score.barCount === 1 ? 'bar' : 'bars'}, {seconds} seconds
          </span>
        </div>
      </section>
      {chosen === undefined ? null : (
        <Pane
          key={chosen.id}
          motif={motifOf(now)}
          plan={kept}
          statement={chosen}
          tempo={plan.tempo}
          listening={listening}
          hearPreview={() => {
            const tried = preview.value;
            if (tried === undefined) return;
            const statement = findStatement(tried.plan, tried.statement);
            listening.score('preview', pieceScore(now, tried.plan), {
              from: toNumber(statement?.onset ?? { n: 0, d: 1 }),
            });
          }}
        />
      )}
    </div>
  );
};
