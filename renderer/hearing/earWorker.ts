import { createClapEar } from '../../core/hearing/clapEar.ts';
import { HOP, LIVE } from '../../core/hearing/constants.ts';
import { createEar, type Ear, type HeardLive } from '../../core/hearing/ear.ts';
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

/** Seconds from a strike until it is told, the cut of the telling included. */
const SETTLED = LIVE.settled + LIVE.settleEvery * HOP;

const listenTo = ({ hears, rate, port }: EarBegins): void => {
  const newEar = (): Ear => (hears === 'claps' ? createClapEar(rate) : createEar(rate));
  let ear = newEar();
  const watch: SoundWatch = createSoundWatch(rate);
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
      first = frame;
    }
    next = frame + samples.length;
    const heard = ear.hear(samples);
    struck = [...struck, ...onAudioClock(heard.struck)];
    const atOnce = onAudioClock(heard.atOnce);
    const state = watch.watch(samples, atOnce.length > 0);
    if (state === undefined && struck.length === 0 && atOnce.length === 0) return;
    const tells: EarTells = { struck, atOnce, state, toldTo: next / rate - SETTLED };
    self.postMessage(tells);
  };
};

self.addEventListener('message', (event: MessageEvent<EarBegins>) => {
  listenTo(event.data);
});
