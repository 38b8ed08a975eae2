import type { ComponentChildren } from 'preact';
import { likelyMotif } from '../../../core/piece/motifOfReading.ts';
import { piece, place, reading, selectedNotes, writeScore } from '../../store/app.ts';
import { step } from '../../store/change.ts';
import { rowsOfWrite, screenPage } from '../../store/screenPage.ts';
import type { Listening } from '../../store/hear.ts';
import { type Tapping, taps } from '../../store/tapping.ts';
import { InWords } from '../parts/inWords.tsx';
import { pageScale, ScorePage } from '../parts/scorePage.tsx';
import { Correct } from './correct.tsx';
import { HearRow } from './hearRow.tsx';
import { Readings } from './readings.tsx';
import { Settings } from './settings.tsx';
import { StrikeLine } from './strikeLine.tsx';
import { TapPanel } from './tapPanel.tsx';

const PAGE = { above: 46, below: 58, names: false, tempo: true } as const;

const UseThis = (props: { listening: Listening }): ComponentChildren => (
  <button
    class="main-action"
    onClick={() => {
      const shown = reading.value;
      if (piece.value?.motifBars === undefined && shown !== undefined) {
        step('use this motif', old => ({ ...old, motifBars: likelyMotif(shown) }));
      }
      props.listening.stop();
      place.value = 'grow';
    }}
  >
    Use this motif
  </button>
);

/** Write: the take as notation, where the mallet fell, and everything to put it right. */
export const Write = (props: { listening: Listening; tapping: Tapping }): ComponentChildren => {
  const now = piece.value;
  const shown = reading.value;
  const score = writeScore.value;
  if (now === undefined || shown === undefined || score === undefined) {
    return <p class="empty">Nothing caught yet. Go to Play, strike some bars and press Catch that.</p>;
  }
  return (
    <div class="two-columns">
      <section class="sheet" aria-label="The page">
        <Settings piece={now} reading={shown} tapping={props.tapping} />
        <div class="scroll">
          <ScorePage
            score={score}
            options={{
              ...PAGE,
              scale: pageScale(1.15),
              staveHeight: screenPage.value.staveHeight,
              under: rowsOfWrite.value,
            }}
            label="The take in notation; the same in words follows it"
            onNote={(refs, _part, more) => {
              const strikes = refs.map(Number);
              selectedNotes.value = more ? [...new Set([...selectedNotes.value, ...strikes])] : strikes;
            }}
            overlay={systems => <StrikeLine systems={systems} piece={now} reading={shown} />}
          />
          <InWords score={score} />
        </div>
        {taps.value === undefined ? (
          <>
            <Correct piece={now} reading={shown} />
            <div class="foot">
              <HearRow score={score} listening={props.listening} />
              <UseThis listening={props.listening} />
            </div>
          </>
        ) : (
          <TapPanel tapping={props.tapping} />
        )}
      </section>
      <Readings piece={now} page={shown} listening={props.listening} />
    </div>
  );
};
