import { describe, expect, it } from 'vitest';
import { createClocks, type TimedContext } from '../../renderer/sound/clocks.ts';

/** An audio context whose clocks a test moves; times in seconds. */
const contextAt = (
  now: { audio: number; input: number },
  stamp: (() => number) | undefined,
): TimedContext => ({
  get currentTime() {
    return now.audio;
  },
  baseLatency: 0.01,
  outputLatency: 0.03,
  ...(stamp === undefined
    ? {}
    : { getOutputTimestamp: () => ({ contextTime: stamp(), performanceTime: now.input * 1000 }) }),
});

describe('the two clocks', () => {
  it('are tied by what leaves the loudspeaker, where the browser says it', () => {
    const now = { audio: 5, input: 105 };
    // 40 ms of sound is still on its way.
    const clocks = createClocks(
      contextAt(now, () => now.audio - 0.04),
      () => now.input,
    );
    expect(clocks.toPerformance(4.96)).toBeCloseTo(105, 9);
    expect(clocks.toAudio(105)).toBeCloseTo(4.96, 9);
    expect(clocks.heard()).toBeCloseTo(4.96, 9);
  });

  it.each([
    ['no output timestamp', undefined],
    ['an output timestamp that has not begun', (): number => 0],
  ])('fall back on the stated latency: %s', (_, stamp) => {
    const now = { audio: 5, input: 105 };
    const clocks = createClocks(contextAt(now, stamp), () => now.input);
    expect(clocks.toPerformance(5)).toBeCloseTo(105.03, 9);
  });

  it('fall back on the base latency, and then on none', () => {
    const now = { audio: 5, input: 105 };
    const at = (more: Partial<TimedContext>): number =>
      createClocks({ currentTime: now.audio, ...more }, () => now.input).toPerformance(5);
    expect(at({ outputLatency: 0, baseLatency: 0.01 })).toBeCloseTo(105.01, 9);
    expect(at({})).toBeCloseTo(105, 9);
  });

  it('are steady when single readings jitter by several milliseconds', () => {
    const now = { audio: 0, input: 100 };
    const jitter = [0, 4, -5, 3, -2, 5, -4, 1, -1, 2].map(ms => ms / 1000);
    let reading = 0;
    const clocks = createClocks(
      contextAt(now, () => now.audio + 0.001 + (jitter[reading % 10] ?? 0)),
      () => now.input,
    );
    const offsets = Array.from({ length: 100 }, () => {
      now.audio += 0.025;
      now.input += 0.025;
      reading += 1;
      clocks.sample();
      return clocks.toPerformance(0);
    }).slice(30);
    expect(Math.max(...offsets) - Math.min(...offsets)).toBeLessThan(0.0015);
  });

  it('follow a slow drift, and a device that is changed', () => {
    const now = { audio: 1, input: 100 };
    let shift = 0;
    const clocks = createClocks(
      contextAt(now, () => now.audio - shift),
      () => now.input,
    );
    const run = (samples: number, drift: number): void => {
      for (let i = 0; i < samples; i += 1) {
        now.audio += 0.025;
        now.input += 0.025 * (1 + drift);
        clocks.sample();
      }
    };
    // 100 parts in a million over 50 s is 5 ms.
    run(2000, 1e-4);
    expect(Math.abs(clocks.toPerformance(now.audio) - now.input)).toBeLessThan(0.0005);
    shift = 0.2;
    run(3, 0);
    expect(Math.abs(clocks.toPerformance(now.audio - 0.2) - now.input)).toBeLessThan(0.01);
  });
});
