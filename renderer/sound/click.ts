import type { Metre } from '../../core/foundation/metre.ts';
import type { Bpm, Seconds } from '../../core/foundation/units.ts';
import { beatsInBar } from '../../core/take/clickBeats.ts';
import { everyFrame } from './pulse.ts';
import type { Band } from './player.ts';

export interface ClickOptions {
  readonly metre: Metre;
  /** Beats a minute, of the metre's tactus; 20 to 300. */
  readonly bpm: Bpm;
  /** 0 to 4. */
  readonly countInBars: number;
  /** Whether it sounds as noise just now, where a microphone may hear it; no unless said. */
  readonly isUnpitched?: () => boolean;
  /** As each beat is heard: its number from 0 at the first barline (below 0 in the count-in), and its place in the bar. */
  readonly onBeat?: (beat: number, inBar: number) => void;
}

export interface RunningClick {
  readonly metre: Metre;
  /** When the first beat after the count-in is heard, on the input clock. */
  readonly firstBeat: Seconds;
  /** Beats heard so far after the count-in, on the input clock; grows while it runs. */
  beats(): readonly Seconds[];
  /** Silences it; `beats()` stays as it was. */
  stop(): void;
}

const AHEAD: Seconds = 0.15;

/** Runs a click on the audio clock, to the sample. */
export const runClick = (band: Band, options: ClickOptions): RunningClick => {
  const { context, clocks, clicks, desk, voices, pulse } = band;
  const owner = {};
  const perBar = beatsInBar(options.metre);
  const period: Seconds = 60 / Math.min(300, Math.max(20, options.bpm));
  const countIn = Math.round(Math.min(4, Math.max(0, options.countInBars))) * perBar;
  const start = context.currentTime + AHEAD;
  const timeOf = (index: number): Seconds => start + index * period;

  let scheduled = 0;
  let shown = 0;
  // A beat's input time is settled when it is heard: the clocks drift, but what was heard is past.
  const heard: Seconds[] = [];
  let stopped = false;

  const hear = (): void => {
    while (timeOf(countIn + heard.length) <= clocks.heard()) {
      heard.push(clocks.toPerformance(timeOf(countIn + heard.length)));
    }
  };
  const tick = (): void => {
    const horizon = context.currentTime + (document.hidden ? 1.2 : AHEAD);
    for (; timeOf(scheduled) <= horizon; scheduled += 1) {
      const buffer = clicks.of(scheduled % perBar === 0, options.isUnpitched?.());
      voices.start({ buffer, gain: 1, into: desk.clickInto, at: timeOf(scheduled), owner });
    }
    hear();
  };
  const stopTick = pulse.each(tick);
  tick();
  const stopFrames =
    options.onBeat === undefined
      ? () => undefined
      : everyFrame(() => {
          for (; timeOf(shown) <= clocks.heard(); shown += 1)
            options.onBeat?.(shown - countIn, shown % perBar);
        });

  return {
    metre: options.metre,
    get firstBeat() {
      return heard[0] ?? clocks.toPerformance(timeOf(countIn));
    },
    beats: () => {
      if (!stopped) hear();
      return [...heard];
    },
    stop: () => {
      if (stopped) return;
      hear();
      stopped = true;
      stopTick();
      stopFrames();
      voices.silence(0.01, owner);
    },
  };
};
