import { type Browser, expect, type Page, test } from 'playwright/test';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { perform } from '../../core/playback/perform.ts';
import type { Rendition } from '../../core/playback/events.ts';
import type { PlayOptions } from '../../renderer/sound/player.ts';
import { IDEA } from '../exchange/pieces.ts';
import { openSoundPage } from './soundPage.ts';

// Playing a performance: the place being heard, pauses, loops, tempo, silent parts, a hidden window.

let browser: Browser;
let page: Page;
test.beforeAll(async () => {
  ({ browser, page } = await openSoundPage());
});
test.afterAll(async () => {
  await browser.close();
});

test('playing reports the place being heard, in order, and its end once', async () => {
  const heard = await page.evaluate(async () => {
    const sound = harness.createSound();
    await sound.start();
    const positions: number[] = [];
    let ends = 0;
    const events = [{ seconds: 0, duration: 0.2, pitch: 60, velocity: 90, instrument: 'marimba' as const }];
    await new Promise<void>(resolve => {
      sound.play(
        { events, duration: 0.8 },
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
    const events = [{ seconds: 0, duration: 0.2, pitch: 60, velocity: 90, instrument: 'marimba' as const }];
    let ends = 0;
    const playing = sound.play({ events, duration: 10 }, { onEnd: () => (ends += 1) });
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
      { events, duration: 10 },
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
    const events = [{ seconds: 0.5, duration: 0.2, pitch: 60, velocity: 90, instrument: 'marimba' as const }];
    const ended = await new Promise(resolve => {
      sound.play(
        { events, duration: 0.6 },
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
    const events = [{ seconds: 0.9, duration: 0.2, pitch: 60, velocity: 90, instrument: 'marimba' as const }];
    const done = await new Promise(resolve => {
      sound.play(
        { events, duration: 1 },
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

/** One sample at the usual rate: what playing is exact to. */
const SAMPLE = 1 / 48000;

/** What the page does besides playing, once it has begun. */
type During = 'nothing' | 'hidden' | 'mute p2 after 400 ms';

/**
 * Plays for real and tells when each stroke was given to the audio clock to begin (Web Audio starts
 * a source at that very time), in order, from the first on.
 */
const played = async (
  performance: Rendition,
  options: Omit<PlayOptions, 'onEnd' | 'onPosition' | 'muted'> & { readonly muted?: readonly string[] },
  seconds: number,
  during: During = 'nothing',
): Promise<readonly number[]> => {
  const starts = await page.evaluate(
    async ({ performance, options, seconds, during }) => {
      const sound = harness.createSound();
      await sound.start();
      const starts: number[] = [];
      // eslint-disable-next-line @typescript-eslint/unbound-method -- called with its own node below
      const { start } = AudioBufferSourceNode.prototype;
      AudioBufferSourceNode.prototype.start = function (when = 0, ...more) {
        starts.push(when);
        start.call(this, when, ...more);
      };
      const setNative = setTimeout;
      const everyNative = setInterval;
      if (during === 'hidden') {
        // As a hidden window does: the page's own timers rest, and no pictures are drawn.
        Object.defineProperty(document, 'hidden', { value: true, configurable: true });
        globalThis.setTimeout = (() => 0) as unknown as typeof setTimeout;
        globalThis.setInterval = (() => 0) as unknown as typeof setInterval;
      }
      const { muted, ...rest } = options;
      const playing = sound.play(performance, {
        ...rest,
        ...(muted === undefined ? {} : { muted: new Set(muted) }),
      });
      if (during === 'mute p2 after 400 ms') {
        setNative(() => {
          playing?.setMuted(new Set(['p2']));
        }, 400);
      }
      // A machine busy with other windows lets this one run only now and then.
      for (let gap = 0; during === 'hidden' && gap < 3; gap += 1) {
        await new Promise(resolve => setNative(resolve, 60));
        const until = globalThis.performance.now() + 700;
        while (globalThis.performance.now() < until) continue;
      }
      await new Promise(resolve => setNative(resolve, seconds * 1000));
      playing?.stop();
      AudioBufferSourceNode.prototype.start = start;
      globalThis.setTimeout = setNative;
      globalThis.setInterval = everyNative;
      Reflect.deleteProperty(document, 'hidden');
      await sound.close();
      return starts;
    },
    { performance, options, seconds, during },
  );
  const [first = 0] = starts;
  return starts.map(at => at - first);
};

const expectAt = (found: readonly number[], wanted: readonly number[]): void => {
  expect(found).toHaveLength(wanted.length);
  found.forEach((at, i) => {
    expect(Math.abs(at - (wanted[i] ?? Infinity)), `stroke ${String(i + 1)}`).toBeLessThan(SAMPLE);
  });
};

/** Strokes of two parts in turn, 100 ms apart. */
const inTurn = (count: number): Rendition => ({
  events: Array.from({ length: count }, (_, i) => ({
    seconds: i * 0.1,
    duration: 0.1,
    pitch: 60 + (i % 12),
    velocity: 80,
    instrument: 'marimba' as const,
    part: i % 2 === 0 ? 'p1' : 'p2',
  })),
  duration: count * 0.1,
});

test('through a change of tempo each stroke begins on its sample', async () => {
  // One bar of the idea at crotchet 240, then at 120; onsets of the idea in crotchets, by hand.
  const idea = [0, 0.5, 1.5, 3, 3 + 1 / 3, 3 + 2 / 3];
  const score = scoreOfPlan(
    IDEA,
    {
      ...firstPlan('xylophone', 240),
      statements: [{ id: 's1', part: 'p1', onset: { n: 0, d: 1 }, chain: [], times: 2 }],
      tempi: [{ bar: 1, tempo: 120 }],
    },
    'Ferry bell',
    'Heron',
  );
  // The idea's fourth note begins at 27/48 of a semibreve.
  const onsets = [...idea.slice(0, 3), (27 / 48) * 4, ...idea.slice(3)];
  const wanted = [...onsets.map(at => at / 4), ...onsets.map(at => 1 + at / 2)];
  expectAt(await played(perform(score), {}, 3.4), wanted);
});

test('a loop comes round on its sample, time after time', async () => {
  const found = await played(inTurn(20), { loop: { from: 0.4, to: 0.75 } }, 2.2);
  // Strokes at 0.4, 0.5, 0.6 and 0.7 s of the piece; a pass lasts 0.35 s.
  const passes = Math.floor(found.length / 4);
  expect(passes).toBeGreaterThan(3);
  const wanted = found.map((_, i) => Math.floor(i / 4) * 0.35 + (i % 4) * 0.1);
  expectAt(found, wanted);
});

test('at half speed every stroke is twice as far on, to the sample', async () => {
  expectAt(await played(inTurn(8), { rate: 0.5 }, 2), [0, 0.2, 0.4, 0.6, 0.8, 1, 1.2, 1.4]);
});

test('a silent part is not heard and the others keep their places, to the sample', async () => {
  // Muting the one, and hearing the other alone, are the same set of silent parts.
  expectAt(await played(inTurn(10), { muted: ['p2'] }, 1.4), [0, 0.2, 0.4, 0.6, 0.8]);
});

test('a part silenced while it plays stops within the time strokes are handed over ahead', async () => {
  const found = await played(inTurn(16), {}, 2, 'mute p2 after 400 ms');
  // Every even stroke is there, on its sample.
  const even = [0, 2, 4, 6, 8, 10, 12, 14].map(i => i / 10);
  const near = (wanted: number): boolean => found.some(at => Math.abs(at - wanted) < SAMPLE);
  for (const at of even) expect(near(at), String(at)).toBe(true);
  // Odd ones end soon after 400 ms: 100 ms of lead and 100 ms ahead, with room for a slow machine.
  const odd = found.filter(at => !even.some(wanted => Math.abs(at - wanted) < SAMPLE));
  expect(odd.length).toBeGreaterThan(0);
  expect(Math.max(...odd)).toBeLessThan(0.9);
});

test('with the window in the background, and seldom let run, no stroke is left out or late', async () => {
  const found = await played(inTurn(24), {}, 1.5, 'hidden');
  expectAt(
    found,
    Array.from({ length: 24 }, (_, i) => i * 0.1),
  );
});
