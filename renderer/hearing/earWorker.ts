import { createClapEar } from '../../core/hearing/clapEar.ts';
import { HOP, LIVE } from '../../core/hearing/constants.ts';
import { createEar, type Ear, type HeardLive } from '../../core/hearing/ear.ts';
import { createSoundMemory } from '../../core/hearing/soundMemory.ts';
import { createSoundWatch, type SoundState, type SoundWatch } from '../../core/hearing/soundWatch.ts';

/** What is listened for: bars with their pitches, or claps, taps and drums without. */
export type HeardKind = 'bars' | 'claps';

/** What the ear is told: once, what to hear, at which rate sound comes, and by which port. */
export interface EarBegins {
  readonly hears: HeardKind;
  readonly rate: number;
  readonly port: MessagePort;
}
/** A piece of sound, and its place on the audio clock. */
interface Piece {
  readonly frame: number;
  readonly samples: Float32Array;
}
/** What the ear tells; times on the audio clock, in seconds. */
export interface EarTells extends HeardLive {
  readonly state: SoundState | undefined;
  /** Everything that was struck before this is told. */
  readonly toldTo: number;
}

/** Sound that is asked for, by its place on the audio clock, in seconds; and which asking this is. */
export interface SoundWanted {
  readonly wanted: number;
  readonly from: number;
  readonly to: number;
}
/** What is remembered of it. */
export interface SoundFound {
  readonly wanted: number;
  readonly from: number;
  readonly rate: number;
  readonly samples: Float32Array;
}

/**
 * Seconds of sound that are remembered, in this thread's memory alone and two bytes a sample: 29 MB at 48 kHz. As long as
 * strikes are, so that whatever can be caught can be heard again.
 */
const REMEMBERED = 300;

/** Seconds from a strike until it is told, the cut of the telling included. */
const SETTLED = LIVE.settled + LIVE.settleEvery * HOP;

const listenTo = ({ hears, rate, port }: EarBegins): void => {
  const newEar = (): Ear => (hears === 'claps' ? createClapEar(rate) : createEar(rate));
  let ear = newEar();
  const watch: SoundWatch = createSoundWatch(rate);
  // Claps have no bars to be heard better.
  const memory = hears === 'bars' ? createSoundMemory(REMEMBERED * rate) : undefined;
  /** The frame that the ear takes for its first, and the one that should come next. */
  let first: number | undefined;
  let next = 0;
  const onAudioClock = (bars: HeardLive['struck']): HeardLive['struck'] =>
    bars.map(bar => ({ ...bar, at: bar.at + (first ?? 0) / rate }));

  port.onmessage = ({ data: { frame, samples } }: MessageEvent<Piece>) => {
    let struck: HeardLive['struck'] = [];
    if (first === undefined || frame !== next) {
      // Sound was lost: what was heard before is told, and the ear begins anew.
      if (first !== undefined) struck = onAudioClock(ear.end().struck);
      ear = newEar();
      memory?.forget();
      first = frame;
    }
    next = frame + samples.length;
    memory?.remember(samples);
    const heard = ear.hear(samples);
    struck = [...struck, ...onAudioClock(heard.struck)];
    const atOnce = onAudioClock(heard.atOnce);
    const state = watch.watch(samples, atOnce.length > 0);
    if (state === undefined && struck.length === 0 && atOnce.length === 0) return;
    const tells: EarTells = { struck, atOnce, state, toldTo: next / rate - SETTLED };
    self.postMessage(tells);
  };
  self.addEventListener('message', ({ data }: MessageEvent<SoundWanted>) => {
    const begun = first ?? 0;
    const found = memory?.between(data.from * rate - begun, data.to * rate - begun);
    const samples = found?.samples ?? new Float32Array(0);
    const answer: SoundFound = {
      wanted: data.wanted,
      from: (begun + (found?.from ?? 0)) / rate,
      rate,
      samples,
    };
    self.postMessage(answer, { transfer: [samples.buffer] });
  });
};

self.addEventListener(
  'message',
  (event: MessageEvent<EarBegins>) => {
    listenTo(event.data);
  },
  { once: true },
);
