import { median } from '../../core/foundation/statistics.ts';
import type { Seconds } from '../../core/foundation/units.ts';

/**
 * The audio clock and the clock of input events (performance.now, in seconds) drift apart and start
 * at different moments. This ties them together by what the loudspeaker gives out, so that a strike
 * and the click beat it was played to can be compared.
 */
export interface Clocks {
  /** When (input clock) the sound at `time` (audio clock) leaves the loudspeaker. */
  toPerformance(time: Seconds): Seconds;
  /** Which audio time leaves the loudspeaker at `time` (input clock). */
  toAudio(time: Seconds): Seconds;
  /** The audio time being heard now. */
  heard(): Seconds;
  /** Takes one more reading; call it regularly. */
  sample(): void;
}

/** What of an AudioContext the clocks need; a test hands in its own. */
export interface TimedContext {
  readonly currentTime: Seconds;
  readonly baseLatency?: Seconds;
  readonly outputLatency?: Seconds;
  getOutputTimestamp?(): { contextTime?: number; performanceTime?: number };
}

/** Single readings are out by several ms; the middle one of this many is steady. */
const READINGS = 25;
/** A change this large is the device, not jitter: forget the old readings. */
const JUMP: Seconds = 0.06;

/** Input clock minus audio clock, by one reading. */
const offsetNow = (context: TimedContext, now: Seconds): Seconds => {
  const stamp = context.getOutputTimestamp?.();
  if (stamp?.contextTime !== undefined && stamp.performanceTime !== undefined && stamp.contextTime > 0) {
    return stamp.performanceTime / 1000 - stamp.contextTime;
  }
  // No output timestamp: the rendered time plus the way to the loudspeaker, as far as it is known.
  const latency = context.outputLatency ?? 0;
  return now - context.currentTime + (latency > 0 ? latency : (context.baseLatency ?? 0));
};

/** @param performanceNow the input clock, in seconds */
export const createClocks = (
  context: TimedContext,
  performanceNow: () => Seconds = () => performance.now() / 1000,
): Clocks => {
  let readings: number[] = [];
  let settled = 0;
  const sample = (): void => {
    const offset = offsetNow(context, performanceNow());
    const last = readings.at(-1);
    // Two in a row that agree on a new offset are a jump; one alone is a hiccup.
    if (last !== undefined && Math.abs(offset - settled) > JUMP && Math.abs(last - settled) > JUMP)
      readings = [last];
    readings = [...readings.slice(1 - READINGS), offset];
    settled = median(readings);
  };
  sample();
  return {
    sample,
    toPerformance: time => time + settled,
    toAudio: time => time - settled,
    heard: () => Math.min(performanceNow() - settled, context.currentTime),
  };
};
