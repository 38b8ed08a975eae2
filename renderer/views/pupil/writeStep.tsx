import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import { openingOf, type Piece } from '../../../core/piece/piece.ts';
import type { Reading } from '../../../core/reading/model/reading.ts';
import { useApp } from '../../desk/appContext.ts';
import { goOnWithMotif } from '../../desk/commands/open.ts';
import { chooseReading } from '../../desk/commands/reading.ts';
import { Incipit } from '../parts/incipit.tsx';
import { InWords } from '../parts/inWords.tsx';
import { pageScale, ScorePage, WritingOut } from '../parts/scorePage.tsx';
import { HeardCursor } from './heardCursor.tsx';
import { PupilFrame, type WayBack } from './pupilFrame.tsx';
import { usePupilTexts } from './texts/pupilTexts.ts';

/** As many ways as a pupil can compare by ear; the one on the page is one of them. */
const WAYS = 4;
/** Bars of a way that are shown, where there is room. */
const OPENING = 2;
const PAGE = { above: 10, below: 10, names: false, tempo: false } as const;

/** How one way begins; drawn once. */
const Opening = (props: { piece: Piece; way: Reading; label: string }): ComponentChildren => {
  const { piece, way } = props;
  const score = useMemo(
    () => openingOf(piece, OPENING, way),
    [piece.key, piece.instrument, JSON.stringify(way.notes)],
  );
  return <Incipit score={score} bars={OPENING} label={props.label} />;
};

/** The tune in notes; other ways to write it are tried by pressing them, and heard at once. */
export const WriteStep = (props: { back: WayBack }): ComponentChildren => {
  const { desk, asking, listening } = useApp();
  const texts = usePupilTexts();
  const page = desk.writePage.value;
  if (page === undefined) {
    if (desk.piece.value === undefined) return null;
    return (
      <PupilFrame back={props.back} instruction={texts.words.write} hear={undefined} action={null}>
        <WritingOut />
      </PupilFrame>
    );
  }
  const { piece, score } = page;
  const ways = desk.readings.value.slice(0, WAYS);
  const written = ({ metre, upbeat, notes }: Reading): string => JSON.stringify([metre, upbeat, notes]);
  const isOnPage = (way: Reading): boolean => written(way) === written(piece.reading);
  const choose = async (way: Reading): Promise<void> => {
    await asking.ask(chooseReading, way, piece.hints);
    const now = desk.writeScore.peek();
    if (now !== undefined) listening.score('page', now);
  };
  return (
    <PupilFrame
      back={props.back}
      instruction={ways.length > 1 && desk.hearing.value !== undefined ? texts.words.ways : texts.words.write}
      hear={() => {
        listening.score('page', score);
      }}
      action={
        <button
          class="main-action"
          onClick={() => {
            listening.stop();
            asking.afterwards(goOnWithMotif);
          }}
        >
          {texts.buttons.yes}
        </button>
      }
    >
      <section class="sheet pupil-page" aria-label={texts.labels.page}>
        <div class="scroll">
          <ScorePage
            score={score}
            options={{ ...PAGE, scale: pageScale(1) }}
            label={texts.labels.tuneInNotes}
            overlay={systems => <HeardCursor systems={systems} />}
          />
          <div lang="en-GB">
            <InWords score={score} isUnseen />
          </div>
        </div>
      </section>
      <ul class="pupil-cards ways">
        {ways.length < 2
          ? null
          : ways.map((way, i) => (
              <li key={i}>
                <button
                  class={`pupil-card${isOnPage(way) ? ' chosen' : ''}`}
                  aria-pressed={isOnPage(way)}
                  onClick={() => void choose(way)}
                >
                  <Opening piece={piece} way={way} label={`${texts.labels.way} ${String(i + 1)}`} />
                  <b>
                    {`${texts.labels.way} ${String(i + 1)}`}
                    {isOnPage(way) ? <span class="on-page">✓ {texts.labels.onPage}</span> : null}
                  </b>
                </button>
              </li>
            ))}
      </ul>
    </PupilFrame>
  );
};
