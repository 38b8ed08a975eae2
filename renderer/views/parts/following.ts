import { useEffect, useRef } from 'preact/hooks';

/** Who has just scrolled by hand is left where that led, for so long, in ms. */
const LEFT_ALONE = 3000;
const BY_HAND = ['wheel', 'touchmove', 'pointerdown', 'keydown'] as const;

/** Brings an element into sight without a jump; where motion is not wanted, at once. */
export const bringIntoSight = (element: Element): void => {
  const still = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
  element.scrollIntoView({ block: 'nearest', behavior: still ? 'auto' : 'smooth' });
};

/**
 * The page follows what is heard: each time it comes to another system that one is brought into sight, unless
 * somebody scrolls.
 * @param element the system being heard; undefined while nothing is
 */
export const useFollowing = (element: Element | undefined): void => {
  const byHand = useRef(-Infinity);
  useEffect(() => {
    const note = (event: Event): void => {
      // A press of a button is no scrolling.
      if (event.type === 'pointerdown' && (event.target as Element).closest('button') !== null) return;
      if (event instanceof KeyboardEvent && !/^(Page|Arrow|Home|End)/.test(event.key)) return;
      byHand.current = performance.now();
    };
    for (const type of BY_HAND) window.addEventListener(type, note, { passive: true, capture: true });
    return () => {
      for (const type of BY_HAND) window.removeEventListener(type, note, { capture: true });
    };
  }, []);
  useEffect(() => {
    if (element !== undefined && performance.now() - byHand.current > LEFT_ALONE) bringIntoSight(element);
  }, [element]);
};
