import { type Browser, expect, type Page, test } from 'playwright/test';
import { openSoundPage } from './soundPage.ts';

declare global {
  var heardPeaks: number[];
}

// Live sound, tapped before the loudspeaker and measured there.

let browser: Browser;
let page: Page;
test.beforeAll(async () => {
  ({ browser, page } = await openSoundPage());
});
test.afterAll(async () => {
  await browser.close();
});

/**
 * Loudest sample about every 5 ms, while `act` is done to a live sound in the page (globalThis.live),
 * for `seconds`; the desk's output is tapped before the loudspeaker.
 */
const listen = async (
  act: () => void,
  seconds: number,
  volume: number | null = 0,
): Promise<readonly number[]> => {
  await page.evaluate(async volume => {
    const Native = AudioContext;
    let tap: AnalyserNode | undefined;
    globalThis.AudioContext = class extends Native {
      override get destination(): AudioDestinationNode {
        if (tap === undefined) {
          tap = new AnalyserNode(this, { fftSize: 2048 });
          tap.connect(super.destination);
        }
        return tap as unknown as AudioDestinationNode;
      }
    };
    globalThis.live = harness.createSound();
    const started = await live.start();
    globalThis.AudioContext = Native;
    if (!started.ok || tap === undefined) throw new Error('no live sound');
    if (volume !== null) live.setVolume(volume);
    await new Promise(resolve => setTimeout(resolve, 100));
    const peaks: number[] = [];
    const samples = new Float32Array(240);
    setInterval(() => {
      tap?.getFloatTimeDomainData(samples);
      peaks.push(samples.reduce((peak, sample) => Math.max(peak, Math.abs(sample)), 0));
    }, 5);
    globalThis.heardPeaks = peaks;
  }, volume);
  await page.evaluate(act);
  return page.evaluate(async seconds => {
    await new Promise(resolve => setTimeout(resolve, seconds * 1000));
    const peaks = [...heardPeaks];
    await live.close();
    return peaks;
  }, seconds);
};

test('a live strike sounds', async () => {
  const peaks = await listen(() => void live.strike('marimba', 60, 100), 0.5);
  expect(Math.max(...peaks)).toBeGreaterThan(0.1);
});

test('panic silences what rings, the room, and everything still to come', async () => {
  const act = (): void => {
    live.strike('vibraphone', 55, 127);
    const events = Array.from({ length: 40 }, (_, i) => ({
      seconds: i * 0.1,
      duration: 2,
      pitch: 60,
      velocity: 127,
      instrument: 'glockenspiel' as const,
    }));
    live.play({ events, duration: 5 });
    live.startClick({ metre: { upper: 4, lower: 4 }, bpm: 200, countInBars: 1 });
    setTimeout(() => {
      live.panic();
    }, 700);
  };
  const peaks = await listen(act, 1.6);
  expect(Math.max(...peaks.slice(0, Math.floor(peaks.length * 0.3)))).toBeGreaterThan(0.1);
  expect(Math.max(...peaks.slice(Math.floor(peaks.length * 0.6)))).toBeLessThan(1e-6);
});

test('after panic the next strike is heard', async () => {
  const act = (): void => {
    live.strike('marimba', 60, 127);
    setTimeout(() => {
      live.panic();
      live.strike('marimba', 60, 127);
    }, 300);
  };
  const peaks = await listen(act, 0.7);
  expect(Math.max(...peaks.slice(Math.floor(peaks.length * 0.5)))).toBeGreaterThan(0.1);
});

test('sound starts 12 dB below full volume, and -60 dB is silence', async () => {
  const act = (): void => void live.strike('marimba', 60, 127);
  const full = Math.max(...(await listen(act, 0.4)));
  const start = Math.max(...(await listen(act, 0.4, null)));
  expect(20 * Math.log10(start / full)).toBeCloseTo(-12, 0);
  expect(Math.max(...(await listen(act, 0.4, -60)))).toBeLessThan(1e-6);
});

test('the thirty-third stroke takes the place of the oldest', async () => {
  const counts = await page.evaluate(() => {
    const context = new OfflineAudioContext(1, 48000, 48000);
    const voices = harness.createVoices(context);
    const buffer = new AudioBuffer({ length: 48000, sampleRate: 48000 });
    return Array.from({ length: 40 }, (_, i) => {
      voices.start({ buffer, gain: 1, into: context.destination, at: i / 100, owner: voices });
      return voices.count();
    });
  });
  expect(counts.slice(0, 32)).toEqual(Array.from({ length: 32 }, (_, i) => i + 1));
  expect(new Set(counts.slice(32))).toEqual(new Set([32]));
});

test('a roll in four parts loses no stroke, however far ahead it is handed over', async () => {
  const heights = await page.evaluate(async () => {
    const rate = 48000;
    const context = new OfflineAudioContext(1, 2 * rate, rate);
    const voices = harness.createVoices(context);
    // Each stroke is a tick at its beginning and rings, in silence, for 6 s.
    const buffer = new AudioBuffer({ length: 6 * rate, sampleRate: rate });
    buffer.getChannelData(0).fill(0.1, 0, 48);
    const times: number[] = [];
    for (let i = 0; i < 24; i += 1) {
      for (const bar of ['A', 'B', 'C', 'D']) {
        const at = 0.01 + i / 12 + 'ABCD'.indexOf(bar) / 100;
        voices.start({ buffer, gain: 1, into: context.destination, at, owner: voices, bar });
        times.push(at);
      }
    }
    const samples = (await context.startRendering()).getChannelData(0);
    return times.filter(at => at < 1.99).map(at => samples[Math.round(at * rate) + 24] ?? 0);
  });
  expect(heights.length).toBeGreaterThan(90);
  for (const height of heights) expect(height).toBeCloseTo(0.1, 5);
});

test('strokes that give way, and all when silenced, fade without a step', async () => {
  const step = await page.evaluate(async () => {
    const rate = 48000;
    const context = new OfflineAudioContext(1, 2 * rate, rate);
    const voices = harness.createVoices(context);
    const buffer = new AudioBuffer({ length: 6 * rate, sampleRate: rate });
    buffer.getChannelData(0).forEach((_, i, all) => {
      all[i] = 0.1 * Math.sin((2 * Math.PI * 130 * i) / rate);
    });
    // One bar, again and again, then more bars than voices.
    for (let i = 0; i < 60; i += 1) {
      const bar = i < 20 ? 'one' : String(i);
      voices.start({ buffer, gain: 1, into: context.destination, at: i * 0.0213, owner: voices, bar });
    }
    void context.suspend(1.5).then(() => {
      voices.silence(0.005);
      return context.resume();
    });
    const samples = (await context.startRendering()).getChannelData(0);
    const last = Math.max(...samples.subarray(1.6 * rate));
    return {
      last,
      most: samples.reduce((most, s, i) => Math.max(most, Math.abs(s - (samples[i - 1] ?? s))), 0),
    };
  });
  expect(step.last).toBe(0);
  // 35 sines of this height at their steepest come to 0.06, a ramp of 5 ms from all of them to 0.015; a cut of one of
  // them alone to 0.1, of all to more than 1.
  expect(step.most).toBeLessThan(0.075);
});

test('click beats after the count-in stand one beat apart on the input clock', async () => {
  const click = await page.evaluate(async () => {
    const sound = harness.createSound();
    await sound.start();
    const from = performance.now() / 1000;
    const shown: [number, number][] = [];
    const running = sound.startClick({
      metre: { upper: 3, lower: 4 },
      bpm: 300,
      countInBars: 1,
      onBeat: (beat, inBar) => shown.push([beat, inBar]),
    });
    await new Promise(resolve => setTimeout(resolve, 2000));
    running?.stop();
    const to = performance.now() / 1000;
    const beats = running?.beats() ?? [];
    await new Promise(resolve => setTimeout(resolve, 300));
    const after = running?.beats() ?? [];
    await sound.close();
    return { beats, after, first: running?.firstBeat, shown, from, to };
  });
  expect(click.beats.length).toBeGreaterThan(3);
  click.beats.slice(1).forEach((beat, i) => {
    expect(Math.abs(beat - (click.beats[i] ?? 0) - 0.2)).toBeLessThan(0.01);
  });
  expect(click.first).toBe(click.beats[0]);
  // Three beats of count-in have gone before, and no beat lies in the future.
  expect((click.beats[0] ?? 0) - click.from).toBeGreaterThan(0.6);
  expect(click.beats.at(-1)).toBeLessThanOrEqual(click.to);
  expect(click.after).toEqual(click.beats);
  expect(click.shown.slice(0, 5)).toEqual([
    [-3, 0],
    [-2, 1],
    [-1, 2],
    [0, 0],
    [1, 1],
  ]);
});

test('the first strike starts the sound by itself once the page has been touched', async () => {
  // Playwright's own calls count as a touch, so the page is told whether there was one.
  const running = async (touched: boolean): Promise<boolean> =>
    page.evaluate(async touched => {
      Object.defineProperty(navigator, 'userActivation', {
        value: { hasBeenActive: touched, isActive: touched },
        configurable: true,
      });
      const sound = harness.createSound();
      sound.strike('marimba', 60, 100);
      for (let i = 0; i < 100 && !sound.running; i += 1)
        await new Promise(resolve => setTimeout(resolve, 20));
      const { running } = sound;
      await sound.close();
      return running;
    }, touched);
  expect(await running(false)).toBe(false);
  expect(await running(true)).toBe(true);
});

test('a computer without sound says so, and that writing still works', async () => {
  const problem = await page.evaluate(async () => {
    const Native = AudioContext;
    globalThis.AudioContext = function () {
      throw new DOMException('no device', 'NotSupportedError');
    } as unknown as typeof AudioContext;
    const sound = harness.createSound();
    const result = await sound.start();
    globalThis.AudioContext = Native;
    sound.strike('marimba', 60, 100)();
    sound.panic();
    return result.ok ? undefined : result.problem;
  });
  expect(problem?.kind).toBe('no-sound');
  expect(problem?.kept).toContain('writing still work');
});
