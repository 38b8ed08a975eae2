import type { MidiPitch, Velocity } from '../../core/foundation/units.ts';
import { type LetGo, type Struck, type StruckBy, timeOf } from './struck.ts';

export interface PointerBarsOptions {
  readonly onStrike: (strike: Struck) => void;
  readonly onRelease: (release: LetGo) => void;
  /** Sliding from bar to bar strikes each; off unless said. */
  readonly glissando?: boolean;
}

export interface PointerBars {
  setGlissando(on: boolean): void;
  stop(): void;
}

const BY: StruckBy = { id: 'screen', name: 'Bars on the screen', source: 'screen' };
const SOFTEST = 48;
const LOUDEST = 120;
/** A bar struck from the keyboard or by a screen reader says nothing of force. */
const PLAIN: Velocity = 88;

const barUnder = (target: EventTarget | null, root: Element): HTMLElement | undefined => {
  const bar = target instanceof Element ? target.closest<HTMLElement>('[data-pitch]') : null;
  return bar !== null && root.contains(bar) && !bar.matches(':disabled, [aria-disabled=true]')
    ? bar
    : undefined;
};
const pitchOf = (bar: HTMLElement): MidiPitch | undefined => {
  const pitch = Number(bar.dataset['pitch'] ?? Number.NaN);
  return Number.isInteger(pitch) && pitch >= 0 && pitch <= 127 ? pitch : undefined;
};

/**
 * How hard: a pen's (or a pressing finger's) pressure; otherwise the place along the bar, softer at
 * its far end, louder towards the player. 0.5 is what devices without pressure report, and 0 or 1
 * what some touch screens always do.
 */
const velocityOf = (event: PointerEvent, bar: HTMLElement): Velocity => {
  const { pressure } = event;
  const box = bar.getBoundingClientRect();
  const along = box.height > 0 ? (event.clientY - box.top) / box.height : 0.5;
  const presses = event.pointerType !== 'mouse' && pressure > 0 && pressure < 1 && pressure !== 0.5;
  const share = Math.min(1, Math.max(0, presses ? pressure : along));
  return Math.round(SOFTEST + (LOUDEST - SOFTEST) * share);
};

/** Bars on the screen: every element within `root` that has data-pitch, by fingers, pen, mouse or key. */
export const createPointerBars = (root: HTMLElement, options: PointerBarsOptions): PointerBars => {
  let glissando = options.glissando ?? false;
  /** Which bar each finger is on; none while it slides between bars. */
  const fingers = new Map<number, MidiPitch | undefined>();

  const strike = (finger: number, bar: HTMLElement, event: PointerEvent): void => {
    const pitch = pitchOf(bar);
    if (pitch === undefined) return;
    fingers.set(finger, pitch);
    options.onStrike({ at: timeOf(event.timeStamp), pitch, velocity: velocityOf(event, bar), by: BY });
  };
  const leave = (finger: number, timeStamp: number): void => {
    const pitch = fingers.get(finger);
    fingers.delete(finger);
    if (pitch !== undefined) options.onRelease({ at: timeOf(timeStamp), pitch, by: BY });
  };

  const down = (event: PointerEvent): void => {
    if (event.pointerType === 'mouse' && event.button !== 0) return;
    const bar = barUnder(event.target, root);
    if (bar === undefined) return;
    // A second press of one finger without a lift between is the lift we were not told of.
    leave(event.pointerId, event.timeStamp);
    strike(event.pointerId, bar, event);
  };
  const move = (event: PointerEvent): void => {
    if (!glissando || !fingers.has(event.pointerId)) return;
    // A touch belongs to the bar it began on; what lies under it now is asked of the page.
    const under = root.ownerDocument.elementFromPoint(event.clientX, event.clientY);
    const bar = barUnder(under, root);
    const pitch = bar === undefined ? undefined : pitchOf(bar);
    if (pitch === fingers.get(event.pointerId)) return;
    leave(event.pointerId, event.timeStamp);
    fingers.set(event.pointerId, undefined);
    if (bar !== undefined) strike(event.pointerId, bar, event);
  };
  const up = (event: PointerEvent): void => {
    leave(event.pointerId, event.timeStamp);
  };
  const press = (event: MouseEvent): void => {
    // detail 0: no pointer made this click, but Enter, Space or a screen reader.
    const bar = event.detail === 0 ? barUnder(event.target, root) : undefined;
    const pitch = bar === undefined ? undefined : pitchOf(bar);
    if (pitch === undefined) return;
    const at = timeOf(event.timeStamp);
    options.onStrike({ at, pitch, velocity: PLAIN, by: BY });
    options.onRelease({ at: at + 0.05, pitch, by: BY });
  };

  const document = root.ownerDocument;
  root.addEventListener('pointerdown', down);
  root.addEventListener('click', press);
  // A finger may be lifted anywhere.
  document.addEventListener('pointermove', move);
  document.addEventListener('pointerup', up);
  document.addEventListener('pointercancel', up);
  return {
    setGlissando: on => {
      glissando = on;
    },
    stop: () => {
      for (const finger of [...fingers.keys()]) leave(finger, performance.now());
      root.removeEventListener('pointerdown', down);
      root.removeEventListener('click', press);
      document.removeEventListener('pointermove', move);
      document.removeEventListener('pointerup', up);
      document.removeEventListener('pointercancel', up);
    },
  };
};
