import { signal } from '@preact/signals';
import { metre } from '../../core/foundation/metre.ts';
import type { Seconds } from '../../core/foundation/units.ts';
import { latenessOf, type Lateness } from '../../core/take/latency.ts';
import type { Struck } from '../input/struck.ts';
import type { RunningClick } from '../sound/click.ts';
import type { Sound } from '../sound/sound.ts';
import { complain, valueOr } from './change.ts';

/** How late each device comes, in ms, by its name. */
export const lateness = signal<Readonly<Record<string, number>>>({});

/** Fifteen seconds of click at this tempo. */
const BPM = 100;
export const SECONDS = 15;

export interface Measuring {
  /** Strikes so far, of every device. */
  readonly strikes: number;
  /** Seconds left. */
  readonly left: number;
}
export const measuring = signal<Measuring | undefined>(undefined);
export const measured = signal<{ readonly device: string; readonly found: Lateness } | undefined>(undefined);
/** Whether the window for it is open. */
export const calibrationShown = signal(false);

export interface Calibration {
  readonly begin: () => void;
  readonly leave: () => void;
  /** Every strike comes by here; counted only while measuring. */
  readonly strike: (struck: Pick<Struck, 'at' | 'by'>) => void;
  readonly forget: (device: string) => void;
}

/** Strikes along to the click for fifteen seconds tell how late a device comes. */
export const createCalibration = (
  sound: Sound,
  store: (all: Readonly<Record<string, number>>) => void,
): Calibration => {
  let click: RunningClick | undefined;
  let struck: { at: Seconds; device: string }[] = [];
  let timer: ReturnType<typeof setInterval> | undefined;

  const leave = (): void => {
    clearInterval(timer);
    click?.stop();
    click = undefined;
    measuring.value = undefined;
  };
  const remember = (all: Readonly<Record<string, number>>): void => {
    lateness.value = all;
    store(all);
  };
  const finish = (): void => {
    const beats = click?.beats() ?? [];
    leave();
    const count = new Map<string, number>();
    for (const { device } of struck) count.set(device, (count.get(device) ?? 0) + 1);
    const [most] = [...count].sort((a, b) => b[1] - a[1]);
    const device = most?.[0] ?? '';
    const found = valueOr(
      latenessOf(
        beats,
        struck.filter(s => s.device === device).map(s => s.at),
      ),
    );
    if (found === undefined) return;
    measured.value = { device, found };
    remember({ ...lateness.value, [device]: found.late });
  };

  return {
    leave,
    forget: device => {
      const { [device]: _, ...others } = lateness.value;
      remember(others);
      measured.value = undefined;
    },
    strike: ({ at, by }) => {
      const now = measuring.value;
      if (now === undefined) return;
      struck.push({ at, device: by.name });
      measuring.value = { ...now, strikes: now.strikes + 1 };
    },
    begin: () => {
      struck = [];
      measured.value = undefined;
      void sound.start().then(started => {
        if (!started.ok) {
          complain(started.problem);
          return;
        }
        click = sound.startClick({ metre: metre(4, 4), bpm: BPM, countInBars: 0 });
        if (click === undefined) return;
        measuring.value = { strikes: 0, left: SECONDS };
        timer = setInterval(() => {
          const now = measuring.value;
          if (now === undefined) return;
          if (now.left <= 1) finish();
          else measuring.value = { ...now, left: now.left - 1 };
        }, 1000);
      });
    },
  };
};

/** The lateness of the device that most of these strikes came from, in ms. */
export const latenessFor = (strikes: readonly { readonly name: string }[]): number => {
  const count = new Map<string, number>();
  for (const { name } of strikes) count.set(name, (count.get(name) ?? 0) + 1);
  const [most] = [...count].sort((a, b) => b[1] - a[1]);
  return most === undefined ? 0 : (lateness.value[most[0]] ?? 0);
};
