import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { toNumber } from '../../core/foundation/fraction.ts';
import { rehearse, setRehearsal } from '../desk/commands/rehearsal.ts';
import { hearProjected } from '../desk/acts/comparing.ts';
import { useApp } from '../desk/appContext.ts';
import { showWindow } from '../desk/commands/settings.ts';
import type { RehearsalSettings } from '../desk/session.ts';
import { NoticedRow, noticedHeight } from './grow/rehearse/noticedRow.tsx';
import { Brackets } from './grow/brackets.tsx';
import { Volume } from './volume.tsx';
import { BeatCount } from './parts/beatCount.tsx';
import { MovingCursor } from './parts/movingCursor.tsx';
import { ProjectorBars } from './projectorBars.tsx';
import { SentenceChoice } from './parts/sentence.tsx';
import { type PlacedSystem, ScorePage } from './parts/scorePage.tsx';
import { useShownWindow } from './parts/shownWindow.ts';

/**
 * A stave as a share of the screen's height. On a picture 1.12 m high it is 96 mm: seen from 6 m like a stave of
 * 8 mm from half a metre.
 */
export const STAVE_SHARE = 0.086;
/** Height of an engraved stave at scale 1, in CSS pixels. */
const STAVE = 40;

const scaleNow = (): number => (window.innerHeight * STAVE_SHARE) / STAVE;

const useScale = (): number => {
  const [scale, setScale] = useState(scaleNow());
  useEffect(() => {
    const resize = (): void => {
      setScale(scaleNow());
    };
    window.addEventListener('resize', resize);
    return () => {
      window.removeEventListener('resize', resize);
    };
  }, []);
  return scale;
};

const topOf = (system: PlacedSystem): number => (system.staves[0]?.top ?? 0) - 14;
const bottomOf = (system: PlacedSystem): number => (system.staves.at(-1)?.bottom ?? 0) + 14;

/** Scrolls to the system before or after the first one that is in sight. */
const turn = (scroll: HTMLElement, by: 1 | -1): void => {
  const systems = [...scroll.querySelectorAll<HTMLElement>('.system')];
  const top = scroll.getBoundingClientRect().top;
  const first = systems.findIndex(system => system.getBoundingClientRect().bottom > top + 8);
  const wanted = systems[Math.min(systems.length - 1, Math.max(0, first + by))];
  wanted?.scrollIntoView({ block: 'start' });
};

/** The projector view: the page alone, as large as a room needs, on a dark surround; it follows what is heard. */
export const Projector = (): ComponentChildren => {
  const { desk, listening, rehearsing } = useApp();
  const dialog = useShownWindow();
  const scroll = useRef<HTMLDivElement>(null);
  /** How Grow stood before anybody played along here. */
  const before = useRef<{ isRehearsing: boolean; settings: RehearsalSettings } | undefined>(undefined);
  const scale = useScale();
  const isGrown = desk.view.value === 'grow';
  const score = isGrown ? desk.growScore.value : desk.writePage.value?.score;
  const piece = desk.piece.value;
  const [barsOf, setBarsOf] = useState('');
  useLayoutEffect(() => {
    // Not on a button, from the first picture on: Space plays and stops, as a clicker does.
    scroll.current?.focus();
  }, []);
  if (score === undefined || piece === undefined) return null;
  const played = isGrown ? desk.rehearsed.value?.parts.filter(part => part.strikes.length > 0) : undefined;
  /** A bar counted, then the page, with the part whose bars are shown left to whoever strikes. */
  const playAlong = (): void => {
    before.current ??= { isRehearsing: desk.isRehearsing.peek(), settings: desk.rehearsal.peek() };
    desk.run(rehearse, true);
    if (barsOf !== '') desk.run(setRehearsal, { part: barsOf });
    desk.run(setRehearsal, { bars: undefined, loop: false });
    rehearsing.start();
    scroll.current?.focus();
  };
  const shownPart = score.parts.find(part => part.id === barsOf);
  const leave = (): void => {
    listening.stop();
    desk.run(showWindow, undefined);
    if (before.current === undefined) return;
    // What was noticed of the playing is looked at in Rehearse; where nobody struck, all is as it was.
    const { isRehearsing, settings } = before.current;
    const { bars, loop } = settings;
    desk.run(setRehearsal, { bars, loop });
    const hasStrikes = desk.rehearsed.peek()?.parts.some(part => part.strikes.length > 0) === true;
    if (!isRehearsing && !hasStrikes) desk.run(rehearse, false);
  };
  return (
    <dialog
      ref={dialog}
      class="projector"
      aria-label="Projector view"
      onClose={leave}
      onKeyDown={event => {
        const by = event.key === 'PageDown' ? 1 : event.key === 'PageUp' ? -1 : undefined;
        if (by === undefined || scroll.current === null) return;
        event.preventDefault();
        turn(scroll.current, by);
      }}
    >
      <div class="projector-head">
        <b>{piece.title}</b>
        <span class="projector-who">
          {[piece.codeName, piece.className].filter(word => word !== '').join(', ')}
        </span>
        <BeatCount score={score} class="projector-count" />
        <span class="grow-space" />
        <SentenceChoice
          before="Bars:"
          value={barsOf}
          choices={[
            { value: '', text: 'none' },
            ...score.parts.map(part => ({ value: part.id, text: part.name.toLowerCase() })),
          ]}
          onChoose={part => {
            setBarsOf(part);
            scroll.current?.focus();
          }}
        />
        <button
          class="second"
          disabled={desk.hearing.value !== undefined}
          onClick={() => {
            hearProjected(desk, listening);
            scroll.current?.focus();
          }}
        >
          <span aria-hidden="true">▶</span> Hear
        </button>
        {isGrown ? (
          <button
            class="second"
            disabled={desk.hearing.value !== undefined}
            title="Counted in; the part whose bars are shown, or the one chosen in Rehearse, is left to who strikes"
            onClick={playAlong}
          >
            Play along
          </button>
        ) : null}
        <button
          class="second"
          disabled={desk.hearing.value === undefined}
          onClick={() => {
            listening.stop();
            scroll.current?.focus();
          }}
        >
          <span aria-hidden="true">■</span> Stop
        </button>
        <Volume />
        <button class="second" onClick={leave}>
          Leave
        </button>
      </div>
      <div ref={scroll} class="projector-page" tabIndex={-1}>
        <ScorePage
          score={score}
          options={{
            above: isGrown ? 62 : 20,
            below: 10 + 2 * noticedHeight(played !== undefined && played.length > 0),
            names: false,
            tempo: true,
            scale,
            staveHeight: undefined,
            under: desk.screenPage.value.under,
          }}
          label={`${piece.title}, large`}
          overlay={systems =>
            isGrown ? (
              <>
                <Brackets
                  systems={systems}
                  score={score}
                  chosen={undefined}
                  tried={undefined}
                  rise={56}
                  named
                  onChoose={id => {
                    // A press on a bracket hears from there.
                    const bracket = score.brackets.find(one => one.id === id);
                    if (bracket !== undefined) hearProjected(desk, listening, toNumber(bracket.from));
                    scroll.current?.focus();
                  }}
                />
                <NoticedRow systems={systems} above={0} size={2} />
              </>
            ) : (
              <MovingCursor systems={systems} top={topOf} bottom={bottomOf} />
            )
          }
        />
      </div>
      <p class="projector-said" aria-live="polite">
        {played
          ?.map(part => {
            const name = score.parts.find(one => one.id === part.part)?.name ?? '';
            return played.length > 1 ? `${name}: ${part.said.sentence}` : part.said.sentence;
          })
          .join(' ')}
      </p>
      {shownPart === undefined ? null : <ProjectorBars part={shownPart} />}
    </dialog>
  );
};
