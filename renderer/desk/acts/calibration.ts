import { metre } from '../../../core/foundation/metre.ts';
import type { Seconds } from '../../../core/foundation/units.ts';
import { latenessOf } from '../../../core/take/latency.ts';
import type { Struck } from '../../input/struck.ts';
import type { RunningClick } from '../../sound/click.ts';
import type { Sound } from '../../sound/sound.ts';
import { complain } from '../commands/messages.ts';
import { countStrike, mostOften, setLateness, setMeasuring } from '../commands/playing.ts';
import type { Desk } from '../desk.ts';

/** Fifteen seconds of click at this tempo. */
const BPM = 100;
export const SECONDS = 15;

export interface Calibration {
  readonly begin: () => void;
  readonly leave: () => void;
  /** Every strike comes by here; counted only while measuring. */
  readonly strike: (struck: Pick<Struck, 'at' | 'by'>) => void;
}

/** Strikes along to the click for fifteen seconds tell how late a device comes. */
export const createCalibration = (sound: Sound, desk: Desk): Calibration => {
  let click: RunningClick | undefined;
  let struck: { at: Seconds; device: string }[] = [];
  let timer: ReturnType<typeof setInterval> | undefined;

  const leave = (): void => {
    clearInterval(timer);
    click?.stop();
    click = undefined;
    desk.run(setMeasuring, undefined);
  };
  const finish = (): void => {
    const beats = click?.beats() ?? [];
    leave();
    const device = mostOften(struck.map(s => s.device)) ?? '';
    const found = latenessOf(
      beats,
      struck.filter(s => s.device === device).map(s => s.at),
    );
    if (found.ok) desk.run(setLateness, device, found.value);
    else desk.run(complain, found.problem);
  };

  return {
    leave,
    strike: ({ at, by }) => {
      if (desk.measuring.peek() === undefined) return;
      struck.push({ at, device: by.name });
      desk.run(countStrike);
    },
    begin: () => {
      struck = [];
      void sound.start().then(started => {
        if (!started.ok) {
          desk.run(complain, started.problem);
          return;
        }
        click = sound.startClick({
          metre: metre(4, 4),
          bpm: BPM,
          countInBars: 0,
          isUnpitched: () => desk.roomEar.peek() !== undefined,
        });
        if (click === undefined) return;
        desk.run(setMeasuring, { strikes: 0, left: SECONDS });
        timer = setInterval(() => {
          const now = desk.measuring.peek();
          if (now === undefined) return;
          if (now.left <= 1) finish();
          else desk.run(setMeasuring, { ...now, left: now.left - 1 });
        }, 1000);
      });
    },
  };
};
