import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Score } from '../../../core/score/score.ts';
import { drawScore, widthOnOneLine } from '../../page/drawScore.ts';
import { notationFontReady } from '../../page/fonts.ts';

/** Smaller than this nobody reads it. */
const SMALLEST = 0.42;

/** The first bars of a score on one short stave: as many of `bars` as stay readable. */
export const Incipit = (props: {
  score: Score;
  bars: number;
  label: string;
  scale?: number;
  /** Notes to underline, by what they stand for. */
  marks?: readonly string[];
}): ComponentChildren => {
  const host = useRef<HTMLDivElement>(null);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    let here = true;
    void notationFontReady().then(() => {
      if (!here || host.current === null) return;
      try {
        const width = Math.max(160, host.current.clientWidth);
        const { score, scale } = fit(props.score, props.bars, width, props.scale ?? 0.6);
        const drawn = drawScore(score, host.current, {
          width,
          scale,
          above: 0,
          below: 0,
          names: false,
          tempo: false,
        });
        underline(drawn, new Set(props.marks ?? []));
      } catch {
        setFailed(true);
      }
    });
    return () => {
      here = false;
    };
  }, [props.score, props.bars, props.scale, props.marks]);
  return (
    <div class="incipit" role="img" aria-label={props.label} ref={host}>
      {failed ? 'cannot be drawn' : null}
    </div>
  );
};

/** A short line under each marked note. */
const underline = (systems: ReturnType<typeof drawScore>, marks: ReadonlySet<string>): void => {
  for (const system of systems) {
    const [stave] = system.staves;
    for (const symbol of system.symbols) {
      if (symbol.tiedFrom || !symbol.refs.some(ref => marks.has(ref))) continue;
      const line = document.createElement('span');
      line.className = 'differs';
      line.style.left = `${String(symbol.x)}px`;
      line.style.top = `${String(Math.max(symbol.bottom, stave?.bottom ?? 0) + 2)}px`;
      system.element.append(line);
    }
  }
};

const fit = (score: Score, bars: number, width: number, most: number): { score: Score; scale: number } => {
  for (let count = Math.min(bars, score.barCount); count > 1; count--) {
    const short = firstBars(score, count);
    const scale = Math.min(most, (width - 4) / widthOnOneLine(short));
    if (scale >= SMALLEST) return { score: short, scale };
  }
  const one = firstBars(score, 1);
  return { score: one, scale: Math.max(0.3, Math.min(most, (width - 4) / widthOnOneLine(one))) };
};

const firstBars = (score: Score, bars: number): Score => {
  const [first] = score.parts;
  if (first === undefined) return score;
  const shown = Math.min(bars, score.barCount);
  return { ...score, parts: [{ ...first, bars: first.bars.slice(0, shown) }], barCount: shown, brackets: [] };
};
