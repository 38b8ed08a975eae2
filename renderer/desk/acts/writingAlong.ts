import type { WrittenSoFar } from '../../../core/reading/whilePlaying/soFar.ts';
import type { Seconds } from '../../../core/foundation/units.ts';
import type { Click } from '../../../core/take/take.ts';
import { setSoFar, toWriteOn, type WritingOn } from '../commands/whilePlaying.ts';
import type { Desk } from '../desk.ts';

/** The page that writes itself while somebody plays. */
export interface WritingAlong {
  /** Something was struck, and is remembered. */
  readonly struck: () => void;
  readonly dispose: () => void;
}

export interface WritingAlongOptions {
  /** Undefined where no thread answers. */
  readonly writeOn: (
    before: WritingOn['before'],
    heard: WritingOn['heard'],
  ) => Promise<WrittenSoFar | undefined>;
  /** The click that goes, with the beats heard so far. */
  readonly click: () => Click | undefined;
  /** Seconds on the clock of all input. */
  readonly now: () => Seconds;
}

/**
 * Asks for the page at each strike, and when a beat is over. One question at a time: what was struck
 * meanwhile is in the next, so nothing ever queues.
 */
export const createWritingAlong = (desk: Desk, options: WritingAlongOptions): WritingAlong => {
  let isAsking = false;
  let isStale = false;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const later = (again: Seconds | undefined): void => {
    if (again !== undefined) timer = setTimeout(ask, Math.max(0, (again - options.now()) * 1000));
  };
  const ask = (): void => {
    clearTimeout(timer);
    if (isAsking) {
      isStale = true;
      return;
    }
    const wanted = toWriteOn(desk.now(), options.now(), options.click());
    if (wanted === undefined) return;
    isAsking = true;
    isStale = false;
    void options.writeOn(wanted.before, wanted.heard).then(soFar => {
      isAsking = false;
      if (soFar !== undefined) desk.run(setSoFar, soFar);
      if (isStale) ask();
      else later(soFar?.again);
    });
  };
  return {
    struck: ask,
    dispose: () => {
      clearTimeout(timer);
    },
  };
};
