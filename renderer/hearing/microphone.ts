import { detailOf, failed, ok, type Problem, type Result } from '../../core/foundation/result.ts';
import type { Seconds } from '../../core/foundation/units.ts';
import type { StruckBar } from '../../core/hearing/hear.ts';
import type { SoundState } from '../../core/hearing/soundWatch.ts';
import type { Recording } from '../../core/hearing/readWav.ts';
import type { EarBegins, EarTells, HeardKind, SoundFound, SoundWanted } from './earWorker.ts';
import { microphoneGone, microphoneMissing, microphoneProblemOf } from './microphoneProblems.ts';
// Bundled as a script of its own, for the audio thread loads it by its address.
import tapAddress from './tapWorklet.ts?worker&url';

/** Ties the audio clock to the clock of input, by what leaves the loudspeaker. */
export interface InputClocks {
  sample(): void;
  toPerformance(time: Seconds): Seconds;
  toAudio(time: Seconds): Seconds;
}

/** What is told while listening; times are on the clock of performance.now(), in seconds. */
export interface MicrophoneTells {
  /** A bar that seems to be struck just now, for the eye. */
  readonly onAtOnce: (bar: StruckBar) => void;
  /** A bar that was struck, told for good. */
  readonly onStruck: (bar: StruckBar) => void;
  readonly onState: (state: SoundState) => void;
  /** It ended by itself. */
  readonly onGone: (problem: Problem) => void;
}

/** A microphone of this machine; the id is the browser's own, and empty for the one the system would take. */
export interface MicrophoneChoice {
  readonly id: string;
  readonly name: string;
}

/** What is asked for. */
export interface MicrophoneWish {
  readonly hears: HeardKind;
  /** The browser's id of one; where it is not plugged in, or empty, the system's own is taken. */
  readonly microphone: string;
}

/** A microphone that is listened to. */
export interface OpenMicrophone {
  /** Those there are to choose from; the system names them only once it gave one. */
  readonly choices: readonly MicrophoneChoice[];
  /** As a person knows it. */
  readonly name: string;
  /** Resolves when all that was struck before a moment has been told, or cannot be any more. */
  toldTo(at: Seconds): Promise<void>;
  /**
   * What is remembered of the sound between two moments; undefined where nothing is, or it is closed meanwhile. It lies
   * in the memory of the ear's thread, and ends with it.
   */
  soundBetween(
    from: Seconds,
    to: Seconds,
  ): Promise<{ readonly from: Seconds; readonly recording: Recording } | undefined>;
  /** Lets go of the microphone: the browser's own sign goes out. */
  close(): void;
}

/** Seconds from one look at the clocks to the next; so long without sound is the end of it. */
const EVERY = 0.5;
const LOST = 4;
/** Longest time anybody waits for the ear. */
const PATIENCE = 1.5;

/** Names of the browser for whatever the system takes; the microphones themselves stand beside them in its list. */
const NO_MICROPHONES_OF_THEIR_OWN = ['', 'default', 'communications'];

/** The microphones there are, by name; a browser that does not say so has none to choose from. */
const choicesIn = async (devices: MediaDevices): Promise<readonly MicrophoneChoice[]> => {
  try {
    return (await devices.enumerateDevices())
      .filter(
        ({ kind, deviceId }) => kind === 'audioinput' && !NO_MICROPHONES_OF_THEIR_OWN.includes(deviceId),
      )
      .map(({ deviceId, label }) => ({ id: deviceId, name: label }));
  } catch {
    return [];
  }
};

const inputNow = (): Seconds => performance.now() / 1000;

/** What is asked of the microphone: its sound as it is, for what makes speech plainer spoils a bar. */
const PLAIN_SOUND: MediaTrackConstraints = {
  echoCancellation: false,
  noiseSuppression: false,
  autoGainControl: false,
};

/**
 * Opens the microphone; the browser asks for leave. Sound goes from the audio thread to a thread of its own, which
 * hears it, remembers the last minutes of it, and forgets them when it is closed.
 */
export const openMicrophone = async (
  tells: MicrophoneTells,
  clocksOf: (context: AudioContext) => InputClocks,
  { hears, microphone }: MicrophoneWish,
): Promise<Result<OpenMicrophone>> => {
  // Absent where the page is not trusted by the browser.
  const devices = navigator.mediaDevices as MediaDevices | undefined;
  if (devices === undefined) return failed(microphoneMissing('navigator.mediaDevices is missing'));
  let stream: MediaStream;
  try {
    const audio = microphone === '' ? PLAIN_SOUND : { ...PLAIN_SOUND, deviceId: { ideal: microphone } };
    stream = await devices.getUserMedia({ audio, video: false });
  } catch (error) {
    return failed(microphoneProblemOf(error));
  }
  const [track] = stream.getAudioTracks();
  if (track === undefined) return failed(microphoneMissing('a stream without sound'));
  const context = new AudioContext({ latencyHint: 'interactive' });
  const worker = new Worker(new URL('./earWorker.ts', import.meta.url), { type: 'module' });
  const timers: ReturnType<typeof setInterval>[] = [];
  let waiting: { readonly at: Seconds; readonly done: () => void }[] = [];
  /** Who waits for sound, by number. */
  const wanting = new Map<number, (found: SoundFound | undefined) => void>();
  let wanted = 0;
  let isOpen = true;
  const close = (): void => {
    isOpen = false;
    timers.forEach(clearInterval);
    worker.terminate();
    track.onended = null;
    for (const one of stream.getTracks()) one.stop();
    for (const { done } of waiting) done();
    waiting = [];
    for (const give of wanting.values()) give(undefined);
    wanting.clear();
    if (context.state !== 'closed') void context.close();
  };
  const gone = (problem: Problem): void => {
    if (!isOpen) return;
    close();
    tells.onGone(problem);
  };
  try {
    await context.audioWorklet.addModule(tapAddress);
    const tap = new AudioWorkletNode(context, 'tap', { outputChannelCount: [1] });
    const { port1, port2 } = new MessageChannel();
    tap.port.postMessage(port1, [port1]);
    const begins: EarBegins = { hears, rate: context.sampleRate, port: port2 };
    worker.postMessage(begins, [port2]);
    context.createMediaStreamSource(stream).connect(tap);
    // A node is asked for sound only if it leads somewhere; this one gives silence.
    tap.connect(context.destination);
    await context.resume();
  } catch (error) {
    close();
    return failed(microphoneProblemOf(error));
  }

  const clocks = clocksOf(context);
  // From the air to the audio thread; how much later than the air the loudspeaker is, is no part of it.
  const settings = track.getSettings() as MediaTrackSettings & { readonly latency?: number };
  const late = (): Seconds => (context.outputLatency || 0) + (settings.latency ?? 0);
  const toInput = (at: Seconds): Seconds => clocks.toPerformance(at) - late();
  const onInputClock = (bar: StruckBar): StruckBar => ({ ...bar, at: toInput(bar.at) });
  let lastTold = inputNow();
  worker.addEventListener('message', ({ data }: MessageEvent<EarTells | SoundFound>) => {
    if (!isOpen) return;
    if ('wanted' in data) {
      wanting.get(data.wanted)?.(data);
      wanting.delete(data.wanted);
      return;
    }
    lastTold = inputNow();
    for (const bar of data.atOnce) tells.onAtOnce(onInputClock(bar));
    for (const bar of data.struck) tells.onStruck(onInputClock(bar));
    if (data.state !== undefined) tells.onState(data.state);
    const to = toInput(data.toldTo);
    for (const { done } of waiting.filter(one => one.at <= to)) done();
    waiting = waiting.filter(one => one.at > to);
  });
  worker.addEventListener('error', event => {
    gone(microphoneGone(event.message));
  });
  track.onended = () => {
    gone(microphoneGone('the track ended'));
  };
  const look = (): void => {
    clocks.sample();
    if (context.state !== 'running') {
      // A computer that slept wakes with a context that stands still.
      lastTold = inputNow();
      void context.resume().catch(detailOf);
    } else if (inputNow() - lastTold > LOST) gone(microphoneGone('no sound comes any more'));
  };
  timers.push(setInterval(look, EVERY * 1000));

  return ok({
    name: track.label,
    choices: await choicesIn(devices),
    close,
    toldTo: at =>
      new Promise(done => {
        if (!isOpen) {
          done();
          return;
        }
        waiting.push({ at, done });
        setTimeout(done, PATIENCE * 1000);
      }),
    soundBetween: async (from, to) => {
      if (!isOpen) return undefined;
      const mine: SoundWanted = {
        wanted: (wanted += 1),
        from: clocks.toAudio(from + late()),
        to: clocks.toAudio(to + late()),
      };
      const found = await new Promise<SoundFound | undefined>(give => {
        wanting.set(mine.wanted, give);
        worker.postMessage(mine);
      });
      if (found === undefined || found.samples.length === 0) return undefined;
      const { rate, samples } = found;
      return { from: toInput(found.from), recording: { rate, samples } };
    },
  });
};
