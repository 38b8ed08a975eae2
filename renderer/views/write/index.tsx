import type { ComponentChildren } from 'preact';
import { isRhythmOnly } from '../../../core/piece/rhythmOnly.ts';
import { useApp } from '../../desk/appContext.ts';
import { hearChosen } from '../../desk/acts/comparing.ts';
import { goOnWithMotif } from '../../desk/commands/open.ts';
import { selectNotes } from '../../desk/commands/settings.ts';
import { Foot } from '../foot.tsx';
import { PieceSentence } from '../pieceSentence.tsx';
import { InWords } from '../parts/inWords.tsx';
import { pageScale, ScorePage, WritingOut } from '../parts/scorePage.tsx';
import { NoteTools, PageLine, TOOLS } from './correct.tsx';
import { HearWords } from './hearWords.tsx';
import { PitchPanel, RhythmLine } from './pitchPanel.tsx';
import { PitchDoubtRow } from './pitchDoubtRow.tsx';
import { Readings } from './readings.tsx';
import { ReaderSettings } from './settings.tsx';
import { StrikeLine } from './strikeLine.tsx';
import { TapPanel } from './tapPanel.tsx';

const PAGE = { above: 46, below: 58 + TOOLS, names: false, tempo: true } as const;

const UseThis = (): ComponentChildren => {
  const { asking, listening } = useApp();
  return (
    <button
      class="main-action"
      onClick={() => {
        listening.stop();
        asking.afterwards(goOnWithMotif);
      }}
    >
      Use this motif
    </button>
  );
};

/** Write: the take as notation, where the mallet fell, and everything to put it right. */
export const Write = (): ComponentChildren => {
  const { desk, listening } = useApp();
  const page = desk.writePage.value;
  if (page === undefined) {
    return desk.piece.value === undefined ? (
      <p class="empty">Nothing caught yet. Go to Play, strike some bars and press Catch that.</p>
    ) : (
      <WritingOut />
    );
  }
  const { piece: now, reading: shown, score } = page;
  const isRhythm = isRhythmOnly(shown);
  return (
    <>
      <PieceSentence>
        <ReaderSettings piece={now} reading={shown} />
      </PieceSentence>
      <div class="two-columns">
        <section class="sheet" aria-label="The page">
          <div class="scroll">
            <ScorePage
              score={score}
              options={{
                ...PAGE,
                scale: pageScale(1.15),
                staveHeight: desk.screenPage.value.staveHeight,
                under: desk.rowsOfWrite.value,
              }}
              label="The take in notation; the same in words follows it"
              onNote={(refs, _part, more) => {
                desk.run(selectNotes, refs.map(Number), more);
              }}
              overlay={systems => (
                <>
                  <StrikeLine systems={systems} piece={now} reading={shown} />
                  <PitchDoubtRow systems={systems} piece={now} reading={shown} />
                  <NoteTools systems={systems} piece={now} reading={shown} />
                </>
              )}
            />
            <InWords score={score} />
          </div>
          {desk.pitching.value !== undefined ? (
            <PitchPanel piece={now} reading={shown} />
          ) : desk.taps.value !== undefined ? (
            <TapPanel />
          ) : (
            <>
              {isRhythm ? <RhythmLine /> : null}
              <PageLine piece={now} reading={shown} />
            </>
          )}
        </section>
        <Readings piece={now} page={shown} />
      </div>
      <Foot
        hear={() => {
          hearChosen(desk, listening);
        }}
        action={<UseThis />}
      >
        <HearWords score={score} />
      </Foot>
    </>
  );
};
