import { detailOf, failed, ok, type Result } from '../../core/foundation/result.ts';
import type { Hertz, MidiPitch, Seconds, Velocity } from '../../core/foundation/units.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import type { MalletId } from '../../core/instruments/mallets.ts';
import type { Rendition } from '../../core/playback/events.ts';
import { type ClickOptions, type RunningClick, runClick } from './click.ts';
import { createClickSounds } from './clickSounds.ts';
import { createClocks } from './clocks.ts';
import { createMixer, type Mixer, START_VOLUME } from './mixer.ts';
import { type Rendered, renderOffline } from './offline.ts';
import { type Band, playPerformance, type Playing, type PlayOptions } from './player.ts';
import { createPulse } from './pulse.ts';
import { type ToneBarRange, createStrokes, prepareIdly } from './strokes.ts';
import { barName, createVoices } from './voices.ts';

/** Everything that is heard. One for the whole app. */
export interface Sound {
  /** Call inside a gesture; browsers allow no sound before one. May be called again at any time. */
  start(): Promise<Result<void>>;
  readonly running: boolean;
  /**
   * One stroke, at once. Before start() it starts the sound itself, where the browser allows it by now.
   * @param pitch as it sounds
   * @param mallet the instrument's usual one where absent
   * @returns a function that damps the bar, where it has a damper (vibraphone)
   */
  strike(instrument: InstrumentId, pitch: MidiPitch, velocity: Velocity, mallet?: MalletId): () => void;
  /** Renders these bars in idle time, so that the first strike on each is immediate. */
  prepare(range: ToneBarRange): void;
  /** Plays; what played before stops. Undefined before start(). */
  play(performance: Rendition, options?: PlayOptions): Playing | undefined;
  /** Starts a click; the one before stops. Undefined before start(). */
  startClick(options: ClickOptions): RunningClick | undefined;
  /** Silences everything that rings or is still to come, within 5 ms. */
  panic(): void;
  /** In dB, -60 (silent) to 0; starts at -12. Kept when set before start(). */
  setVolume(db: number): void;
  /** The vibraphone's motor: swells a second, 3 to 8, or 0 for none, as it starts. Holds for files too. */
  setMotor(swells: Hertz): void;
  /** Audio clock to input clock (performance.now() / 1000), by what leaves the loudspeaker. */
  audioToPerformance(time: Seconds): Seconds;
  renderOffline(performance: Rendition, sampleRate: Hertz): Promise<Rendered>;
  /** Ends it for good. */
  close(): Promise<void>;
}

/** How long a device may take to begin before we say that there is none. */
const PATIENCE = 2500;
/** A first stroke heard later than this, in ms, would be taken for another. */
const FRESH = 500;

const noSound = (detail: string): Result<never> =>
  failed({
    kind: 'no-sound',
    what: 'This computer gives no sound.',
    kept: 'Playing, catching and writing still work.',
    next: 'Plug in headphones or a loudspeaker, then press Hear or strike a bar again.',
    detail,
  });

const wait = (ms: number): Promise<void> => new Promise(resolve => setTimeout(resolve, ms));

/** Resolves when the audio clock moves on, or rejects when it does not. */
const advancing = async (context: AudioContext): Promise<void> => {
  const from = context.currentTime;
  for (let gone = 0; gone < PATIENCE; gone += 20) {
    if (context.state === 'running' && context.currentTime > from) return;
    await wait(20);
  }
  throw new Error(`the audio clock stands still (${context.state})`);
};

const assemble = (context: AudioContext, volume: number, swells: Hertz): Band & { desk: Mixer } => ({
  context,
  desk: createMixer(context, volume, swells),
  voices: createVoices(context),
  strokes: createStrokes(context.sampleRate),
  clicks: createClickSounds(context.sampleRate),
  clocks: createClocks(context),
  pulse: createPulse(context),
});

export const createSound = (): Sound => {
  let band: Band | undefined;
  let volume = START_VOLUME;
  let swells: Hertz = 0;
  let running = false;
  let playing: Playing | undefined;
  let click: RunningClick | undefined;
  let ranges: readonly ToneBarRange[] = [];
  let stopPreparing: readonly (() => void)[] = [];
  let wakingStroke = 0;
  const owner = {};

  const prepareAll = (ready: Band): void => {
    stopPreparing.forEach(stop => {
      stop();
    });
    stopPreparing = ranges.map(range => prepareIdly(ready.strokes, range));
  };
  const open = (): Band => {
    const ready = assemble(new AudioContext({ latencyHint: 'interactive' }), volume, swells);
    ready.pulse.each(() => {
      ready.clocks.sample();
    });
    prepareAll(ready);
    return ready;
  };

  const start = async (): Promise<Result<void>> => {
    try {
      band ??= open();
      // With no device at all, resume() may never settle; what counts is whether the clock moves.
      const refused = band.context.resume().then(() => new Promise<never>(() => undefined));
      await Promise.race([advancing(band.context), refused]);
      running = true;
      return ok(undefined);
    } catch (error) {
      running = false;
      return noSound(detailOf(error));
    }
  };
  const strikeOn = (
    { voices, strokes, desk, context }: Band,
    instrument: InstrumentId,
    pitch: MidiPitch,
    velocity: Velocity,
    mallet?: MalletId,
  ): (() => void) => {
    const voice = voices.start({
      ...strokes.atOnce({ instrument, pitch, velocity, mallet }),
      into: desk.into[instrument],
      at: context.currentTime,
      owner,
      bar: barName(instrument, pitch),
    });
    return () => {
      if (instrument === 'vibraphone') voice.damp(context.currentTime);
    };
  };
  /** The first strike may be the very gesture that allows sound: begin, and let it be heard if that was quick. */
  const strikeToWake = (...stroke: [InstrumentId, MidiPitch, Velocity, MalletId?]): void => {
    if (!navigator.userActivation.hasBeenActive) return;
    wakingStroke += 1;
    const mine = wakingStroke;
    const asked = performance.now();
    void start().then(started => {
      // Of several that waited only the last sounds, or all would sound in a heap.
      const fresh = mine === wakingStroke && performance.now() - asked < FRESH;
      if (started.ok && fresh && band !== undefined) strikeOn(band, ...stroke);
    });
  };

  return {
    start,
    get running() {
      return running;
    },
    strike: (...stroke) => {
      // Strikes on a sleeping context would all sound together when it wakes.
      if (band?.context.state === 'running') return strikeOn(band, ...stroke);
      strikeToWake(...stroke);
      return () => undefined;
    },
    prepare: range => {
      ranges = [...ranges.filter(other => other.instrument !== range.instrument), range];
      if (band !== undefined) prepareAll(band);
    },
    play: (performance, options) => {
      playing?.stop();
      playing = band === undefined ? undefined : playPerformance(band, performance, options);
      return playing;
    },
    startClick: options => {
      click?.stop();
      click = band === undefined ? undefined : runClick(band, options);
      return click;
    },
    panic: () => {
      // First the voices: a player that stops of itself takes its time to fade.
      band?.voices.silence(0.005);
      playing?.stop();
      click?.stop();
      band?.desk.emptyRoom(0.005);
    },
    setVolume: db => {
      volume = db;
      band?.desk.setVolume(db);
    },
    setMotor: asked => {
      swells = asked;
      band?.desk.setMotor(asked);
    },
    audioToPerformance: time => band?.clocks.toPerformance(time) ?? time,
    renderOffline: (performance, sampleRate) => renderOffline(performance, sampleRate, swells),
    close: async () => {
      playing?.stop();
      click?.stop();
      const closing = band;
      band = undefined;
      running = false;
      stopPreparing.forEach(stop => {
        stop();
      });
      if (closing === undefined) return;
      if (closing.context.state !== 'closed') await closing.context.close();
      closing.pulse.stop();
    },
  };
};
