import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Score } from '../../../core/score/score.ts';
import { drawScore } from '../../page/drawScore.ts';
import { notationFontReady } from '../../page/fonts.ts';

/** The first bars of a score as one short stave; longer scores fade out at the right. */
export const Incipit = (props: {
  score: Score;
  bars: number;
  label: string;
  scale?: number;
}): ComponentChildren => {
  const host = useRef<HTMLDivElement>(null);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    let here = true;
    void notationFontReady().then(() => {
      if (!here || host.current === null) return;
      try {
        const width = Math.max(200, host.current.clientWidth);
        drawScore(firstBars(props.score, props.bars), host.current, {
          width,
          scale: props.scale ?? 0.62,
          above: 0,
          below: 0,
          names: false,
          tempo: false,
        });
      } catch {
        setFailed(true);
      }
    });
    return () => {
      here = false;
    };
  }, [props.score, props.bars, props.scale]);
  return (
    <div class="incipit" role="img" aria-label={props.label} ref={host}>
      {failed ? 'cannot be drawn' : null}
    </div>
  );
};

const firstBars = (score: Score, bars: number): Score => {
  const [first] = score.parts;
  if (first === undefined) return score;
  const shown = Math.min(bars, score.barCount);
  return { ...score, parts: [{ ...first, bars: first.bars.slice(0, shown) }], barCount: shown, brackets: [] };
};
