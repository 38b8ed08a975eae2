// Only the context: importing all of tone opens a second audio context at once, before any gesture.
import { Context } from 'tone/build/esm/core/context/Context.js';
import type { Seconds } from '../../core/foundation/units.ts';

const EVERY: Seconds = 0.025;
/** A worker the page's policy refuses fails without a word; after this long we do without it. */
const PATIENCE = 500;

/**
 * Tone's clock: a tick about every 25 ms from a worker, which goes on when the window is hidden
 * and page timers are slowed to one a second.
 */
export interface Pulse {
  /** Calls back on every tick until the returned function is called. */
  each(callback: () => void): () => void;
  stop(): void;
}

export const createPulse = (context: AudioContext): Pulse => {
  // No look-ahead: live strikes are never made to wait; the player adds its own.
  const tone = new Context({ context, clockSource: 'worker', lookAhead: 0, updateInterval: EVERY });
  let heard = false;
  const first = (): void => {
    heard = true;
    tone.off('tick', first);
  };
  tone.on('tick', first);
  const watch = setTimeout(() => {
    if (!heard) tone.clockSource = 'timeout';
  }, PATIENCE);
  return {
    each: callback => {
      // Its own function each time, or adding one twice would remove both at once.
      const tick = (): void => {
        callback();
      };
      tone.on('tick', tick);
      return () => {
        tone.off('tick', tick);
      };
    },
    stop: () => {
      clearTimeout(watch);
      tone.dispose();
    },
  };
};

/** Calls back before every picture until the returned function is called; rests while hidden. */
export const everyFrame = (callback: () => void): (() => void) => {
  let handle = 0;
  const frame = (): void => {
    handle = requestAnimationFrame(frame);
    callback();
  };
  handle = requestAnimationFrame(frame);
  return () => {
    cancelAnimationFrame(handle);
  };
};
