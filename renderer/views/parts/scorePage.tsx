import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Score } from '../../../core/score/score.ts';
import { drawScore, type PageOptions, type PageSystem } from '../../page/drawScore.ts';
import { notationFontReady } from '../../page/fonts.ts';

export interface PlacedSystem extends PageSystem {
  /** From the top of the page, in CSS pixels. */
  readonly top: number;
}

/** Staves grow a little on large windows, as paper is held closer. */
export const pageScale = (usual: number): number => (window.innerWidth >= 1600 ? usual * 1.3 : usual);

/** Resolves to true once the notation font can be drawn. */
const useFont = (): boolean => {
  const [ready, setReady] = useState(false);
  useEffect(() => {
    let here = true;
    void notationFontReady().then(() => {
      if (here) setReady(true);
    });
    return () => {
      here = false;
    };
  }, []);
  return ready;
};

/**
 * A score on the page: drawn when it or the width changes, with whatever the view lays over it
 * (strike line, brackets, cursor) given the positions.
 */
export const ScorePage = (props: {
  score: Score;
  options: Omit<PageOptions, 'width'>;
  label: string;
  overlay?: (systems: readonly PlacedSystem[]) => ComponentChildren;
  onNote?: (refs: readonly string[], part: string, add: boolean) => void;
}): ComponentChildren => {
  const outer = useRef<HTMLDivElement>(null);
  const host = useRef<HTMLDivElement>(null);
  const ready = useFont();
  const [width, setWidth] = useState(0);
  const [systems, setSystems] = useState<readonly PlacedSystem[]>([]);
  const { scale, above, below, names, tempo } = props.options;

  useLayoutEffect(() => {
    const element = outer.current;
    if (element === null) return;
    const read = (): void => {
      setWidth(Math.floor(element.clientWidth));
    };
    read();
    const observer = new ResizeObserver(read);
    observer.observe(element);
    return () => {
      observer.disconnect();
    };
  }, []);

  useLayoutEffect(() => {
    if (host.current === null || !ready || width < 200) return;
    const drawn = drawScore(props.score, host.current, { scale, above, below, names, tempo, width });
    let top = 0;
    setSystems(
      drawn.map(system => {
        const placed = { ...system, top };
        top += system.height;
        return placed;
      }),
    );
  }, [props.score, ready, width, scale, above, below, names, tempo]);

  return (
    <div class="score-page" ref={outer}>
      <div
        ref={host}
        class="drawn"
        role="img"
        aria-label={props.label}
        onClick={event => {
          const note = (event.target as Element).closest<SVGElement>('[data-refs]');
          const refs = note?.dataset['refs'];
          if (refs !== undefined && refs !== '') {
            props.onNote?.(refs.split(' '), note?.dataset['part'] ?? '', event.shiftKey || event.ctrlKey);
          }
        }}
      />
      {systems.length > 0 && systems[0]?.element.isConnected === true ? props.overlay?.(systems) : null}
    </div>
  );
};

/** The moving line that shows what is being heard. */
export const CursorLine = (props: { x: number; top: number; height: number }): ComponentChildren => (
  <div
    class="cursor-line"
    style={{
      transform: `translate(${String(props.x)}px, ${String(props.top)}px)`,
      height: `${String(props.height)}px`,
    }}
    aria-hidden="true"
  />
);
