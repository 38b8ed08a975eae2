import { signal } from '@preact/signals';
import { piece, reading } from './app.ts';
import { complain, hint } from './change.ts';
import type { Listening } from './hear.ts';

/** Taps so far, on the take's clock, while the take replays; undefined when nobody is tapping. */
export const taps = signal<readonly number[] | undefined>(undefined);

/** Fewer taps than these show no beat. */
export const FEWEST_TAPS = 4;

export interface Tapping {
  readonly begin: (rate: number) => void;
  /** @param late seconds between the tap itself and this call */
  readonly tap: (late: number) => void;
  /** Takes the taps as the beat. */
  readonly finish: () => void;
  readonly leave: () => void;
}

/** The take replays; what is tapped to it becomes its beat. */
export const createTapping = (listening: Listening): Tapping => {
  let speed = 1;
  const leave = (): void => {
    if (taps.value === undefined) return;
    taps.value = undefined;
    listening.stop();
  };
  const finish = (): void => {
    const tapped = taps.value;
    if (tapped === undefined) return;
    leave();
    if (tapped.length < FEWEST_TAPS) {
      complain({
        kind: 'out-of-range',
        what: `That was ${tapped.length === 1 ? 'one tap' : `${String(tapped.length)} taps`}; the beat shows from ${String(FEWEST_TAPS)} on.`,
        kept: 'The page is as it was.',
        next: 'Press “tap the beat” and tap along on every beat, to the end.',
      });
      return;
    }
    void hint('tap the beat', { taps: tapped });
  };
  return {
    begin: rate => {
      const now = piece.value;
      const shown = reading.value;
      if (now === undefined || shown === undefined) return;
      speed = rate;
      taps.value = [];
      listening.take(now.take, shown, now.instrument, { rate, then: finish });
    },
    tap: late => {
      const at = listening.takeTime();
      if (taps.value === undefined || at === undefined) return;
      taps.value = [...taps.value, at - late * speed];
    },
    finish,
    leave,
  };
};
