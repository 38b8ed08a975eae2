import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { metreInWords } from '../../../core/foundation/metre.ts';
import type { Score } from '../../../core/score/score.ts';
import { lastBars } from '../../../core/score/unfinished.ts';
import { useApp } from '../../desk/appContext.ts';
import { metreChosen } from '../../desk/commands/playing.ts';
import { drawScore, widthOnOneLine } from '../../page/drawScore.ts';
import { notationFontReady } from '../../page/fonts.ts';

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
  const width = element.clientWidth;
  const last = fitting(score, width);
  const draw = (scale: number): number => {
    const [system] = drawScore(last.score, element, {
      width,
      scale,
      above: 0,
      below: 0,
      names: false,
      tempo: false,
    });
    const [stave] = system?.staves ?? [];
    if (system === undefined || stave === undefined) return 1;
    // The stave stands still whatever rises above it.
    system.element.style.transform = `translateY(${String(STAVE_TOP - stave.top)}px)`;
    const under = (element.clientHeight - STAVE_TOP) / (stave.inkBottom - stave.top);
    return Math.min(1, under, STAVE_TOP / Math.max(1, stave.top - stave.inkTop));
  };
  const fits = draw(last.scale);
  if (fits < 1) draw(last.scale * fits);
};

/**
 * The page as it writes itself while somebody plays: one quiet line. Its room is there before anything is
 * written, and a screen reader is not told of every strike: the page is there to be read once it is caught.
 */
export const SoFar = (): ComponentChildren => {
  const { desk } = useApp();
  const host = useRef<HTMLDivElement>(null);
  const score = desk.pageSoFar.value;
  const metre = metreChosen({ play: desk.playSettings.value });
  const inMetre = metre === undefined ? '' : `, in ${metreInWords(metre)}`;
  /** When the line was drawn last, and what stands on it. */
  const drawn = useRef({ at: -Infinity, page: '' });
  useEffect(() => {
    const page = score === undefined ? '' : JSON.stringify(score);
    if (page === drawn.current.page) return undefined;
    let here = true;
    const draw = async (): Promise<void> => {
      await notationFontReady();
      const element = host.current;
      if (!here || element === null) return;
      drawn.current = { at: performance.now(), page };
      if (score === undefined) element.replaceChildren();
      else drawLine(score, element);
    };
    // Who strikes fast wants pictures of the bars first: the line follows a few times a second.
    const timer = setTimeout(() => void draw(), Math.max(0, drawn.current.at + APART - performance.now()));
    return () => {
      here = false;
      clearTimeout(timer);
    };
  }, [score]);
  return (
    <div class="so-far" role="img" aria-label="The last bars, written while you play">
      {score === undefined ? (
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
