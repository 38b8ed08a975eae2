import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { finish } from '../../../core/foundation/sliced.ts';
import type { Score } from '../../../core/score/score.ts';
import { useApp } from '../../desk/appContext.ts';
import { doInSlices } from '../../desk/inSlices.ts';
import { notationFontReady } from '../../page/fonts.ts';
import type { PageOptions } from '../../page/options.ts';
import { useFrameWords } from './frameWords.ts';
import { layOutSheetInSlices, type PageSystem, type Sheet } from '../../page/sheet.ts';

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

/** How far beyond what is seen systems are drawn. */
const NEAR = '100% 0px';

/** What the page scrolls in; null for the window. */
const scrollerOf = (element: Element): Element | null => {
  for (let at = element.parentElement; at !== null; at = at.parentElement) {
    if (/auto|scroll/.test(getComputedStyle(at).overflowY)) return at;
  }
  return null;
};

/** The systems that can be seen, or nearly, where the page is scrolled to; the first one always. */
const systemsInSight = (host: HTMLElement, sheet: Sheet): readonly number[] => {
  const view = scrollerOf(host)?.getBoundingClientRect();
  const top = view?.top ?? 0;
  const height = view?.height ?? window.innerHeight;
  let y = host.getBoundingClientRect().top;
  return sheet.systems.flatMap((system, i) => {
    const from = y;
    y += system.height;
    return i === 0 || (from < top + height * 1.25 && y > top - height * 0.25) ? [i] : [];
  });
};

/** More bars than this, of all parts together, are laid out in slices: the page would stand still. */
const AT_ONCE = 160;

/** Stands where a long page is going to be. */
export const WritingOut = (): ComponentChildren => (
  <p class="empty" role="status">
    {useFrameWords().writingOut}
  </p>
);

const placedOnPage = (systems: readonly PageSystem[]): readonly PlacedSystem[] => {
  let top = 0;
  return systems.map(system => {
    const placed = { ...system, top };
    top += system.height;
    return placed;
  });
};

/**
 * A score on the page: laid out when it or the width changes, with whatever the view lays over it
 * (strike line, brackets, cursor) given the positions. Systems far from what is seen keep their
 * place and are drawn when they come near; systems whose bars did not change are kept.
 */
export const ScorePage = (props: {
  score: Score;
  options: Omit<PageOptions, 'width'>;
  label: string;
  overlay?: (systems: readonly PlacedSystem[]) => ComponentChildren;
  onNote?: (refs: readonly string[], part: string, add: boolean) => void;
  /** The page was laid out, and what belongs over it stands there. */
  onLaid?: (systems: readonly PlacedSystem[]) => void;
}): ComponentChildren => {
  const { desk } = useApp();
  const outer = useRef<HTMLDivElement>(null);
  const host = useRef<HTMLDivElement>(null);
  const ready = useFont();
  const [width, setWidth] = useState(0);
  const [sheet, setSheet] = useState<Sheet | undefined>();
  const [laid, setLaid] = useState<object | undefined>();
  const [broken, setBroken] = useState<{ readonly thrown: unknown } | undefined>();
  if (broken !== undefined) throw broken.thrown;
  const latest = useRef<Sheet | undefined>(undefined);
  // While a long page is laid out the one before is seen, with what belongs over that.
  const over = useRef<{ score: Score; overlay: typeof props.overlay } | undefined>(undefined);
  const isLong = props.score.barCount * props.score.parts.length > AT_ONCE;
  if (!isLong || over.current?.score === props.score)
    over.current = { score: props.score, overlay: props.overlay };
  // Views make their options anew at each drawing; what counts is what they say.
  const said = JSON.stringify(props.options);
  const style = props.options.nameStyle ?? desk.nameStyle.value;

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
    const element = host.current;
    if (element === null || !ready || width < 200) return;
    const keep = (now: Sheet): void => {
      latest.current = now;
      setSheet(now);
    };
    const options: PageOptions = { ...props.options, width, nameStyle: style };
    let giveUp = (): void => undefined;
    let observer: IntersectionObserver | undefined;
    const show = (laid: Sheet): void => {
      over.current = { score: props.score, overlay: props.overlay };
      keep(laid.draw(systemsInSight(element, laid)));
      // The rest is drawn as it comes near; heights are known, so nothing moves when it does.
      const indexOf = new Map(laid.systems.map((system, i) => [system.element as Element, i]));
      observer?.disconnect();
      const coming = new IntersectionObserver(
        entries => {
          const near = entries.filter(e => e.isIntersecting).flatMap(e => indexOf.get(e.target) ?? []);
          const now = latest.current;
          if (now !== undefined && near.some(i => !now.drawn.has(i))) keep(now.draw(near));
        },
        { root: scrollerOf(element), rootMargin: NEAR },
      );
      laid.systems.forEach((system, i) => {
        if (latest.current?.drawn.has(i) !== true) coming.observe(system.element);
      });
      observer = coming;
    };
    const done = (laid: Sheet): void => {
      setLaid({});
      show(laid);
    };
    // A first page is seen as soon as it fills what can be seen; one that is there stays until the next is done.
    const beginning =
      isLong && latest.current === undefined ? { height: window.innerHeight, show } : undefined;
    const laying = layOutSheetInSlices(props.score, element, options, latest.current, beginning);
    // Thrown where it is drawn, the view's boundary catches it.
    const broke = (thrown: unknown): void => {
      setBroken({ thrown });
    };
    if (isLong) giveUp = doInSlices(laying, { done, broke });
    else done(finish(laying));
    return () => {
      giveUp();
      observer?.disconnect();
    };
  }, [props.score, ready, width, said, style]);

  const systems = placedOnPage(sheet?.systems ?? []);
  useEffect(() => {
    if (laid !== undefined) props.onLaid?.(systems);
  }, [laid]);
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
      {systems.length > 0 && systems[0]?.element.isConnected === true ? (
        over.current?.overlay?.(systems)
      ) : isLong ? (
        <WritingOut />
      ) : null}
    </div>
  );
};
