import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { metreInWords } from '../../../core/foundation/metre.ts';
import type { Score } from '../../../core/score/score.ts';
import { lastBars } from '../../../core/score/unfinished.ts';
import { useApp } from '../../desk/appContext.ts';
import type { Desk } from '../../desk/desk.ts';
import { metreChosen } from '../../desk/commands/playing.ts';
import { widthOnOneLine } from '../../page/drawScore.ts';
import { notationFontReady } from '../../page/fonts.ts';
import { layOutSheet, type Sheet } from '../../page/sheet.ts';

/** As on a page; smaller where the room of the line is too low for it. */
const SCALE = 0.72;
/** Pixels over the stave: room for two ledger lines. */
const STAVE_TOP = 34;
/** Least time between two drawings, in ms: shorter than a beat, longer than a drawing takes. */
const APART = 150;

/** The last bars that fit, the one under way always. */
const fitting = (score: Score, width: number): { readonly score: Score; readonly scale: number } => {
  for (let bars = score.barCount; bars > 1; bars--) {
    const last = lastBars(score, bars);
    if (widthOnOneLine(last) * SCALE <= width - 4) return { score: last, scale: SCALE };
  }
  const one = lastBars(score, 1);
  return { score: one, scale: Math.min(SCALE, (width - 4) / widthOnOneLine(one)) };
};

/** Draws the last bars that fit; smaller where they rise above the room of the line or fall below it. */
const drawLine = (score: Score, element: HTMLElement): void => {
  // Read before anything is written: afterwards each would make the browser lay the window out at once.
  const { clientWidth: width, clientHeight: height } = element;
  const last = fitting(score, width);
  const laidOut = (scale: number): Sheet =>
    layOutSheet(last.score, element, { width, scale, above: 0, below: 0, names: false, tempo: false });
  /** What the line must be shrunk by to fit; the place of ink is known before it is drawn. */
  const fits = ({ systems }: Sheet): number => {
    const stave = systems[0]?.staves[0];
    if (stave === undefined) return 1;
    const under = (height - STAVE_TOP) / (stave.inkBottom - stave.top);
    return Math.min(1, under, STAVE_TOP / Math.max(1, stave.top - stave.inkTop));
  };
  const usual = laidOut(last.scale);
  const share = fits(usual);
  const [system] = (share < 1 ? laidOut(last.scale * share) : usual).draw([0]).systems;
  const stave = system?.staves[0];
  if (system === undefined || stave === undefined) return;
  // The stave stands still whatever rises above it.
  system.element.style.transform = `translateY(${String(STAVE_TOP - stave.top)}px)`;
};

/**
 * Keeps the line drawn as it is written on. Who strikes fast wants pictures of the bars first: the line follows a
 * few times a second, and between two drawings no score is made.
 */
const followLine = (seen: Desk, host: { readonly current: HTMLElement | null }): (() => void) => {
  let drawn = { at: -Infinity, page: '' };
  let timer: ReturnType<typeof setTimeout> | undefined;
  let isReady = false;
  const draw = (): void => {
    timer = undefined;
    const element = host.current;
    if (element === null) return;
    const score = seen.pageSoFar.peek();
    const page = score === undefined ? '' : JSON.stringify(score);
    const same = page === drawn.page;
    drawn = { at: performance.now(), page };
    if (same) return;
    if (score === undefined) element.replaceChildren();
    else drawLine(score, element);
  };
  const soon = (): void => {
    if (!isReady || timer !== undefined) return;
    timer = setTimeout(draw, Math.max(0, drawn.at + APART - performance.now()));
  };
  void notationFontReady().then(() => {
    isReady = true;
    soon();
  });
  const unfollow = seen.askedSoFar.subscribe(soon);
  return () => {
    unfollow();
    isReady = false;
    clearTimeout(timer);
  };
};

/**
 * The page as it writes itself while somebody plays: one quiet line. Its room is there before anything is
 * written, and a screen reader is not told of every strike: the page is there to be read once it is caught.
 */
export const SoFar = (): ComponentChildren => {
  const { desk } = useApp();
  const host = useRef<HTMLDivElement>(null);
  const metre = metreChosen({ play: desk.playSettings.value });
  const inMetre = metre === undefined ? '' : `, in ${metreInWords(metre)}`;
  useEffect(() => followLine(desk, host), [desk]);
  return (
    <div class="so-far" role="img" aria-label="The last bars, written while you play">
      {!desk.isWritingAlong.value ? (
        <span class="quiet">
          {desk.clickRunning.value
            ? 'What you play is written here, a beat behind.'
            : `What you play is written here as soon as the beat is sure${inMetre}.`}
        </span>
      ) : null}
      <div class="so-far-line" ref={host} />
    </div>
  );
};
