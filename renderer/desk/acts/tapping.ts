import { enoughTaps, setTaps } from '../commands/playing.ts';
import { hint } from '../commands/reading.ts';
import type { Asking } from '../asking.ts';
import type { Desk } from '../desk.ts';
import type { Listening } from './listening.ts';

export interface Tapping {
  /** @param rate speed of the replay, 1 for as played */
  readonly begin: (rate: number) => void;
  /** @param late seconds between the tap itself and this call */
  readonly tap: (late: number) => void;
  /** Takes the taps as the beat. */
  readonly finish: () => void;
  readonly leave: () => void;
}

/** The take replays; what is tapped to it becomes its beat. */
export const createTapping = (desk: Desk, asking: Asking, listening: Listening): Tapping => {
  let speed = 1;
  const leave = (): void => {
    if (desk.taps.peek() === undefined) return;
    desk.run(setTaps, undefined);
    listening.stop();
  };
  const finish = (): void => {
    const taps = desk.taps.peek();
    if (taps === undefined) return;
    leave();
    if (desk.run(enoughTaps, taps)) void asking.ask(hint, 'tap the beat', { taps });
  };
  return {
    begin: rate => {
      const piece = desk.piece.peek();
      const reading = desk.reading.peek();
      if (piece === undefined || reading === undefined) return;
      speed = rate;
      desk.run(setTaps, []);
      listening.take(piece.take, reading, piece.instrument, { rate, mallet: piece.mallet, then: finish });
    },
    tap: late => {
      const at = listening.takeTime();
      const taps = desk.taps.peek();
      if (taps !== undefined && at !== undefined) desk.run(setTaps, [...taps, at - late * speed]);
    },
    finish,
    leave,
  };
};
