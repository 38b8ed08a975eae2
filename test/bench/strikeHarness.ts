// Bundled, and run by strike.ts in the app's own page before any of the app's scripts.
import { installFakeWebMidi } from '../fakes/webMidi.ts';

const midi = installFakeWebMidi();
const contexts: AudioContext[] = [];
const starts: number[] = [];

// The app's own context, to be asked for its latency.
const Native = AudioContext;
globalThis.AudioContext = class extends Native {
  constructor(options?: AudioContextOptions) {
    super(options);
    contexts.push(this);
  }
};
/* eslint-disable @typescript-eslint/unbound-method -- it is called on the source it was called on */
const begin = AudioBufferSourceNode.prototype.start;
AudioBufferSourceNode.prototype.start = function (...args: Parameters<typeof begin>) {
  starts.push(performance.now());
  begin.apply(this, args);
};
/* eslint-enable @typescript-eslint/unbound-method */

const frame = (): Promise<number> =>
  new Promise(resolve =>
    requestAnimationFrame(() => {
      resolve(performance.now());
    }),
  );
const wait = (time: number): Promise<void> => new Promise(resolve => setTimeout(resolve, time));

/** What one strike took, in ms from the moment its MIDI event was sent. */
export interface StrikeTimes {
  /** First frame that finds the bar's animation running. */
  readonly runs: number;
  /** The frame after that one, by which its picture has been handed over. */
  readonly next: number;
  /** First frame in which the animation is past its beginning: the bar has moved. */
  readonly moved: number;
  /** The call that starts a sound. */
  readonly sound: number;
  /** How long the app held the page until it was done with the strike. */
  readonly handled: number;
}

const strikeOnce = async (id: string, pitch: number): Promise<StrikeTimes> => {
  const bar = document.querySelector(`[data-pitch="${String(pitch)}"]`);
  if (bar === null) throw new Error(`there is no bar ${String(pitch)}`);
  if (bar.getAnimations().length > 0) throw new Error('the bar still moves from before');
  starts.length = 0;
  const sent = performance.now();
  if (!midi.send(id, [0x90, pitch, 80])) throw new Error('the strike was not delivered');
  const handled = performance.now() - sent;
  let runs = Number.NaN;
  let next = Number.NaN;
  let moved = Number.NaN;
  for (let i = 0; i < 60 && Number.isNaN(moved + next); i += 1) {
    const at = (await frame()) - sent;
    const running = bar.getAnimations().find(animation => animation.playState === 'running');
    if (!Number.isNaN(runs) && Number.isNaN(next)) next = at;
    if (running !== undefined && Number.isNaN(runs)) runs = at;
    if (Number.isNaN(moved) && Number(running?.currentTime ?? 0) > 0) moved = at;
  }
  midi.send(id, [0x80, pitch, 0]);
  if (Number.isNaN(moved + next)) throw new Error('the bar did not move');
  const [startedAt] = starts;
  if (startedAt === undefined) throw new Error('no sound was started');
  return { runs, next, moved, handled, sound: startedAt - sent };
};

/** Strikes so many bars, one after another, on a page at rest, at uneven intervals. */
const strike = async (id: string, count: number): Promise<StrikeTimes[]> => {
  const times: StrikeTimes[] = [];
  for (let i = 0; i < count; i += 1) {
    times.push(await strikeOnce(id, 60 + ((i * 7) % 25)));
    await wait(450 + ((i * 7.3) % 16.7));
  }
  return times;
};

/** Resolves when the app's sound has begun. */
const awake = async (): Promise<void> => {
  for (let i = 0; i < 500; i += 1) {
    const [context] = contexts;
    if (context?.state === 'running' && context.currentTime > 0) return;
    await wait(10);
  }
  throw new Error('the sound did not begin');
};

/** What the context says of its latency, in ms. */
const latency = (): { base: number; output: number; rate: number } => {
  const [context] = contexts;
  if (context === undefined) throw new Error('there is no sound');
  return { base: context.baseLatency * 1000, output: context.outputLatency * 1000, rate: context.sampleRate };
};

/** Mean ms between frames, of 60. */
const framePeriod = async (): Promise<number> => {
  const from = await frame();
  let to = from;
  for (let i = 0; i < 60; i += 1) to = await frame();
  return (to - from) / 60;
};

const strikes = { midi, strike, awake, latency, framePeriod };
export type StrikeHarness = typeof strikes;
Object.assign(globalThis, { strikes });
