import { vi } from 'vitest';
import { metre } from '../../../core/foundation/metre.ts';
import { ok, type Result } from '../../../core/foundation/result.ts';
import type { Rendition } from '../../../core/playback/events.ts';
import type { ClickOptions, RunningClick } from '../../../renderer/sound/click.ts';
import type { PlayOptions } from '../../../renderer/sound/player.ts';
import type { Sound } from '../../../renderer/sound/sound.ts';

export interface Played {
  readonly performance: Rendition;
  readonly options: PlayOptions;
  isStopped: boolean;
  muted: readonly string[];
  position: number;
  /** When its beginning is heard, on the input clock. */
  startedAt: number;
}
export interface Clicked {
  readonly options: ClickOptions;
  isStopped: boolean;
  beats: readonly number[];
}

/** A sound that notes what it is asked, and starts when it is told to. */
export const fakeSound = () => {
  const played: Played[] = [];
  const clicks: Clicked[] = [];
  const order: string[] = [];
  const mallets: (string | undefined)[] = [];
  let go: (started: Result<void>) => void = () => undefined;
  let answer: Promise<Result<void>> = Promise.resolve(ok(undefined));
  const sound = {
    start: () => answer,
    strike: vi.fn((instrument: string, pitch: number, _velocity: number, mallet?: string) => {
      mallets.push(mallet);
      order.push(`strike ${instrument} ${String(pitch)}`);
      return () => order.push(`damp ${String(pitch)}`);
    }),
    play: (performance: Rendition, options: PlayOptions = {}) => {
      const one: Played = {
        performance,
        options,
        isStopped: false,
        muted: [...(options.muted ?? [])],
        position: 0,
        startedAt: 0,
      };
      played.push(one);
      return {
        stop: () => {
          one.isStopped = true;
        },
        position: () => one.position,
        sinceStart: (at: number) => at - one.startedAt,
        setMuted: (muted: ReadonlySet<string>) => {
          one.muted = [...muted];
        },
      };
    },
    startClick: (options: ClickOptions): RunningClick => {
      const one: Clicked = { options, isStopped: false, beats: [] };
      clicks.push(one);
      return {
        metre: options.metre,
        firstBeat: 0,
        beats: () => one.beats,
        stop: () => {
          one.isStopped = true;
        },
      };
    },
  } as unknown as Sound;
  return {
    sound,
    played,
    clicks,
    order,
    /** The mallet of the last strike; undefined for the usual one. */
    struckWith: () => mallets.at(-1),
    /** From now on it starts only when `begin` is called. */
    hold: () => {
      answer = new Promise(resolve => {
        go = resolve;
      });
    },
    begin: (started: Result<void> = ok(undefined)) => {
      go(started);
    },
  };
};

export const COMMON_TIME = metre(4, 4);
