import { type Browser, expect, type Page, test } from 'playwright/test';
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
