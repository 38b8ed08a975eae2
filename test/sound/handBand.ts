import type { Rendition } from '../../core/playback/events.ts';
import { type Band, playPerformance, type Playing, type PlayOptions } from '../../renderer/sound/player.ts';

/** What sounded here, by the bar's name (or the click), and when on the audio clock. */
export interface SoundedHere {
  readonly bar: string;
  readonly at: number;
}

/** How far the input clock is ahead of the audio clock here, in seconds. */
export const AHEAD_OF_AUDIO = 100;

/** A band whose clock a test turns by hand, in steps as short as the real one's. */
export const handBand = () => {
  const here: SoundedHere[] = [];
  const ticks = new Set<() => void>();
  const now = { audio: 0 };
  const band = {
    context: {
      get currentTime() {
        return now.audio;
      },
    },
    desk: { into: {}, clickInto: {} },
    voices: {
      start: ({ bar, at }: { bar?: string; at: number }) => {
        here.push({ bar: bar ?? 'click', at });
      },
      silence: () => undefined,
    },
    strokes: { of: () => ({ gain: 1 }), atOnce: () => ({ gain: 1 }) },
    clicks: { of: () => ({}) },
    clocks: {
      toPerformance: (time: number) => time + AHEAD_OF_AUDIO,
      toAudio: (time: number) => time - AHEAD_OF_AUDIO,
      heard: () => now.audio,
      sample: () => undefined,
    },
    pulse: {
      each: (tick: () => void) => {
        ticks.add(tick);
        return () => ticks.delete(tick);
      },
    },
  } as unknown as Band;
  return {
    here,
    /** On the input clock. */
    now: () => now.audio + AHEAD_OF_AUDIO,
    play: (performance: Rendition, options?: PlayOptions): Playing =>
      playPerformance(band, performance, options),
    /** Lets so many seconds pass. */
    pass: (seconds: number): void => {
      const until = now.audio + seconds;
      while (now.audio < until - 1e-9) {
        now.audio = Math.min(until, now.audio + 0.025);
        for (const tick of [...ticks]) tick();
      }
    },
  };
};
