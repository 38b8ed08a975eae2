import { build } from 'esbuild';
import { type Browser, chromium, expect, type Page, test } from 'playwright/test';
import { INSTRUMENT_IDS, INSTRUMENTS, type InstrumentId } from '../../core/parts/instruments.ts';
import type { Performance, SoundingEvent } from '../../core/playback/events.ts';
import { decayTime, frequencyOf } from '../../core/playback/struckBar.ts';
import type { Sound } from '../../renderer/sound/sound.ts';
import { centsBetween, peakOf, strongestNear } from '../playback/tones.ts';
import type { SoundHarness } from './soundHarness.ts';

declare global {
  var harness: SoundHarness;
  var live: Sound;
  var heardPeaks: number[];
}

/**
 * The sound as a browser makes it, in a page that holds nothing else. A real AudioContext runs here
 * without a device (Chromium's silent output advances its clock), so live sound is tapped before the
 * destination and measured as well.
 */
const RATE = 48000;
let browser: Browser;
let page: Page;

test.beforeAll(async () => {
  const bundle = await build({
    entryPoints: ['test/e2e/soundHarness.ts'],
    bundle: true,
    write: false,
    format: 'iife',
    target: 'chrome120',
  });
  browser = await chromium.launch({
    executablePath: '/usr/bin/chromium',
    args: ['--no-sandbox', '--autoplay-policy=no-user-gesture-required'],
  });
  page = await browser.newPage();
  await page.route('**/*', route =>
    route.fulfill({ contentType: 'text/html', body: '<!doctype html><title>Sound</title>' }),
  );
  await page.goto('http://localhost/');
  await page.addScriptTag({ content: bundle.outputFiles[0]?.text ?? '' });
});
test.afterAll(async () => {
  await browser.close();
});

/** Renders in the page and hands the left and right samples back. */
const render = async (performance: Performance): Promise<{ left: Float32Array; right: Float32Array }> => {
  const packed = await page.evaluate(
    async ({ performance, rate }) => {
      const { left, right } = await harness.sound.renderOffline(performance, rate);
      const pack = (samples: Float32Array): string => {
        const bytes = new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength);
        let text = '';
        for (let i = 0; i < bytes.length; i += 32768)
          text += String.fromCharCode(...bytes.subarray(i, i + 32768));
        return btoa(text);
      };
      return { left: pack(left), right: pack(right) };
    },
    { performance, rate: RATE },
  );
  const unpack = (text: string): Float32Array => {
    const bytes = Buffer.from(text, 'base64');
    return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  };
  return { left: unpack(packed.left), right: unpack(packed.right) };
};

const stroke = (
  instrument: InstrumentId,
  pitch: number,
  at: number,
  velocity = 100,
  duration = 0.5,
): SoundingEvent => ({ instrument, pitch, at, velocity, duration });

for (const id of INSTRUMENT_IDS) {
  test(`${id}: what leaves the desk is within 1 cent of equal temperament at three pitches`, async () => {
    const { low, high, soundsAbove } = INSTRUMENTS[id];
    for (const written of [low, Math.round((low + high) / 2), high]) {
      const pitch = written + soundsAbove;
      const { left } = await render({ events: [stroke(id, pitch, 0, 100, 2)], length: 1 });
      // While the bar itself is far above the room: what the room gives back afterwards is no line any more.
      const length = Math.round(Math.min(0.5, 0.7 * decayTime(id, frequencyOf(pitch))) * RATE);
      const found = strongestNear(left, frequencyOf(pitch), RATE, 480, length);
      expect(Math.abs(centsBetween(found, frequencyOf(pitch)))).toBeLessThan(1);
    }
  });
}

test('no sample goes beyond full scale with four parts at full velocity, and something is there', async () => {
  const events = Array.from({ length: 16 }, (_, i) =>
    INSTRUMENT_IDS.flatMap(id => [stroke(id, 72, i * 0.15, 127), stroke(id, 79, i * 0.15, 127)]),
  ).flat();
  const { left, right } = await render({ events, length: 3 });
  expect(Math.max(peakOf(left), peakOf(right))).toBeLessThan(1);
  expect(peakOf(left)).toBeGreaterThan(0.7);
});

test('each stroke begins where its event says, within 1 ms', async () => {
  // Some on either side of the seams at which strokes are handed over.
  const times = [0.1, 0.4333, 1.9999, 2, 3.25, 5.0007];
  for (const id of INSTRUMENT_IDS) {
    const { soundsAbove, low } = INSTRUMENTS[id];
    for (const at of times) {
      const { left, right } = await render({ events: [stroke(id, low + soundsAbove + 12, at)], length: 5.1 });
      const both = left.map((sample, i) => Math.abs(sample) + Math.abs(right[i] ?? 0));
      const threshold = peakOf(both) * 0.02;
      const onset = both.findIndex(sample => sample > threshold) / RATE;
      expect(Math.abs(onset - at), `${id} at ${String(at)} s`).toBeLessThan(0.001);
    }
  }
});

test('strokes of a passage add up: nothing is dropped beyond the live voice limit in a file', async () => {
  const events = Array.from({ length: 60 }, (_, i) => stroke('vibraphone', 60 + (i % 24), 0.02 * i, 60, 5));
  const all = await render({ events, length: 2 });
  const without = await render({ events: events.slice(1), length: 2 });
  const difference = all.left.map((sample, i) => sample - (without.left[i] ?? 0));
  // The first stroke still rings after the sixtieth began; the oldest would have been taken in live play.
  expect(peakOf(difference.subarray(Math.round(1.4 * RATE), Math.round(1.5 * RATE)))).toBeGreaterThan(0.005);
});

test('a vibraphone bar is damped at the end of its note, a marimba bar is not', async () => {
  const level = async (id: InstrumentId): Promise<number> => {
    const { left } = await render({ events: [stroke(id, 60, 0, 100, 0.3)], length: 2 });
    return peakOf(left.subarray(Math.round(1 * RATE), Math.round(1.1 * RATE))) / peakOf(left);
  };
  expect(await level('vibraphone')).toBeLessThan(0.001);
  expect(await level('marimba')).toBeGreaterThan(0.01);
});

test('rendering the same performance twice gives the same sound', async () => {
  const performance = { events: [stroke('xylophone', 84, 0), stroke('marimba', 60, 0.25)], length: 0.5 };
  const [once, again] = [await render(performance), await render(performance)];
  // A browser may add up its nodes in another order, which shows in the last bits: far below 16-bit sound.
  expect(peakOf(once.left.map((sample, i) => sample - (again.left[i] ?? 0)))).toBeLessThan(1e-6);
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
      at: i * 0.1,
      duration: 2,
      pitch: 60,
      velocity: 127,
      instrument: 'glockenspiel' as const,
    }));
    live.play({ events, length: 5 });
    live.startClick({ metre: { beats: 4, unit: 4 }, bpm: 200, countInBars: 1 });
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

test('playing reports the place being heard, in order, and its end once', async () => {
  const heard = await page.evaluate(async () => {
    const sound = harness.createSound();
    await sound.start();
    const positions: number[] = [];
    let ends = 0;
    const events = [{ at: 0, duration: 0.2, pitch: 60, velocity: 90, instrument: 'marimba' as const }];
    await new Promise<void>(resolve => {
      sound.play(
        { events, length: 0.8 },
        {
          rate: 2,
          onPosition: at => positions.push(at),
          onEnd: () => {
            ends += 1;
            resolve();
          },
        },
      );
    });
    // Time enough for a second end, were there one.
    await new Promise(resolve => setTimeout(resolve, 300));
    await sound.close();
    return { positions, ends };
  });
  expect(heard.ends).toBe(1);
  expect(heard.positions.length).toBeGreaterThan(5);
  expect(heard.positions).toEqual([...heard.positions].sort((a, b) => a - b));
  expect(heard.positions.at(-1)).toBe(0.8);
});

test('a pause holds the place and goes on from it; a loop comes round; stop reports no end', async () => {
  const seen = await page.evaluate(async () => {
    const sound = harness.createSound();
    await sound.start();
    const wait = (ms: number): Promise<void> => new Promise(resolve => setTimeout(resolve, ms));
    const events = [{ at: 0, duration: 0.2, pitch: 60, velocity: 90, instrument: 'marimba' as const }];
    let ends = 0;
    const playing = sound.play({ events, length: 10 }, { onEnd: () => (ends += 1) });
    await wait(500);
    playing?.pause();
    const held = playing?.position() ?? -1;
    await wait(300);
    const still = playing?.position() ?? -1;
    playing?.resume();
    await wait(500);
    const on = playing?.position() ?? -1;
    playing?.stop();
    const turns: number[] = [];
    const round = sound.play(
      { events, length: 10 },
      { loop: { from: 2, to: 2.3 }, onPosition: at => turns.push(at) },
    );
    await wait(1200);
    round?.stop();
    await sound.close();
    return { held, still, on, ends, turns };
  });
  expect(seen.held).toBeGreaterThan(0);
  expect(seen.still).toBe(seen.held);
  expect(seen.on).toBeGreaterThan(seen.held);
  expect(seen.ends).toBe(0);
  expect(Math.min(...seen.turns)).toBeGreaterThanOrEqual(2);
  expect(Math.max(...seen.turns)).toBeLessThanOrEqual(2.3);
  const returns = seen.turns.filter((at, i) => at < (seen.turns[i - 1] ?? 0) - 0.05).length;
  expect(returns).toBeGreaterThan(1);
});

test('click beats after the count-in stand one beat apart on the input clock', async () => {
  const click = await page.evaluate(async () => {
    const sound = harness.createSound();
    await sound.start();
    const from = performance.now() / 1000;
    const shown: [number, number][] = [];
    const running = sound.startClick({
      metre: { beats: 3, unit: 4 },
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

test('the clock of playback ticks from a worker, which a hidden window does not slow down', async () => {
  const ticks = await page.evaluate(async () => {
    const Native = Worker;
    let ticks = 0;
    globalThis.Worker = class extends Native {
      constructor(url: string | URL) {
        super(url);
        this.addEventListener('message', () => (ticks += 1));
      }
    };
    const sound = harness.createSound();
    await sound.start();
    globalThis.Worker = Native;
    // As a hidden window does: the page's own timers come to rest.
    const setNative = setTimeout;
    globalThis.setTimeout = (() => 0) as unknown as typeof setTimeout;
    const events = [{ at: 0.5, duration: 0.2, pitch: 60, velocity: 90, instrument: 'marimba' as const }];
    const ended = await new Promise(resolve => {
      sound.play(
        { events, length: 0.6 },
        {
          onEnd: () => {
            resolve(true);
          },
        },
      );
      setNative(() => {
        resolve(false);
      }, 15_000);
    });
    globalThis.setTimeout = setNative;
    await sound.close();
    return { ticks, ended };
  });
  expect(ticks.ended).toBe(true);
  expect(ticks.ticks).toBeGreaterThan(10);
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

test('a worker the page forbids does not stop the music', async () => {
  const ended = await page.evaluate(async () => {
    const Native = Worker;
    // As a content policy does it: the worker is made, and never says a word.
    globalThis.Worker = class extends EventTarget {
      onmessage = null;
      postMessage(): void {}
      terminate(): void {}
    } as unknown as typeof Worker;
    const sound = harness.createSound();
    await sound.start();
    globalThis.Worker = Native;
    const events = [{ at: 0.9, duration: 0.2, pitch: 60, velocity: 90, instrument: 'marimba' as const }];
    const done = await new Promise(resolve => {
      sound.play(
        { events, length: 1 },
        {
          onEnd: () => {
            resolve(true);
          },
        },
      );
      setTimeout(() => {
        resolve(false);
      }, 15_000);
    });
    await sound.close();
    return done;
  });
  expect(ended).toBe(true);
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
