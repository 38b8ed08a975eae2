import type { Seconds } from '../../core/foundation/units.ts';
import type { Rendition, SoundingEvent } from '../../core/playback/events.ts';
import type { ClockPulse } from '../../core/playback/midiClock.ts';
import type { Clocks } from './clocks.ts';
import type { ClickSounds } from './clickSounds.ts';
import type { Mixer } from './mixer.ts';
import { everyFrame, type Pulse } from './pulse.ts';
import type { Strokes } from './strokes.ts';
import { barName, type Voices } from './voices.ts';

/**
 * Where what is played is played, too: told of everything a moment before it is to be heard, in times of the input
 * clock at which it leaves the loudspeaker here.
 */
export interface PlayedElsewhere {
  /** It begins, or goes on. */
  begin(): void;
  /** A stroke, and when its note ends. */
  stroke(event: SoundingEvent, at: Seconds, until: Seconds): void;
  pulse(pulse: number, at: Seconds): void;
  /** All that comes up to this moment has been told. */
  upTo(time: Seconds): void;
  /** It stops, pauses or has come to its end: nothing sounds on. */
  stop(): void;
  /** Whether what is played there is silent here. */
  isOnlyThere(): boolean;
}

export interface PlayOptions {
  /** Speed, 0.25 to 4; 1 as written. */
  readonly rate?: number;
  /** Start here rather than at the beginning. */
  readonly from?: Seconds;
  /** Over and over: all of it, or a stretch. */
  readonly loop?: boolean | { readonly from: Seconds; readonly to: Seconds };
  /** Parts that are not heard, by id. */
  readonly muted?: ReadonlySet<string>;
  /** Click beats, in seconds of the performance; `accents[i]` marks the first of a bar. */
  readonly click?: { readonly beats: readonly Seconds[]; readonly accents: readonly boolean[] };
  /** Strokes of parts, and pulses, are told there, too. */
  readonly elsewhere?: PlayedElsewhere;
  /** MIDI clocks of what is played, in seconds of the performance. */
  readonly pulses?: readonly ClockPulse[];
  /** Before every picture: the place in the performance that is being heard. */
  readonly onPosition?: (position: Seconds) => void;
  /** Once, when it has been heard to its end; not after stop(). */
  readonly onEnd?: () => void;
}

export interface Playing {
  stop(): void;
  pause(): void;
  resume(): void;
  readonly paused: boolean;
  /** The place being heard, in seconds of the performance. */
  position(): Seconds;
  setMuted(muted: ReadonlySet<string>): void;
  /**
   * How long it had been playing at a moment of the input clock, by what leaves the loudspeaker: real seconds
   * from where it began, through every pass of a loop; below 0 before.
   */
  sinceStart(at: Seconds): Seconds;
}

/** What plays: the parts of the sound a player works with. */
export interface Band {
  readonly context: AudioContext;
  readonly desk: Mixer;
  readonly voices: Voices;
  readonly strokes: Strokes;
  readonly clicks: ClickSounds;
  readonly clocks: Clocks;
  readonly pulse: Pulse;
}

/** How far ahead strokes are handed to the audio clock; further when hidden, where ticks may be late. */
const AHEAD: Seconds = 0.1;
const AHEAD_HIDDEN: Seconds = 1.2;
/** Time to render the first strokes before the first is due. */
const LEAD: Seconds = 0.1;
/** A stroke later than this is left out rather than played in a heap with others. */
const TOO_LATE: Seconds = 0.08;

interface Cue {
  readonly at: Seconds;
  /** Makes it sound at `when` on the audio clock. */
  readonly start: (when: Seconds) => void;
  readonly prepare?: () => void;
}

/** A stroke as loud as its part is against the others. */
export const balanced = <S extends { readonly gain: number }>(stroke: S, event: SoundingEvent): S =>
  event.balance === undefined ? stroke : { ...stroke, gain: stroke.gain * 10 ** (event.balance / 20) };

/** Whether the bar is stopped when its note ends: a vibraphone's always, by the damper, unless it is to ring; others' where the page says so. */
export const isStopped = (event: SoundingEvent): boolean =>
  event.rings !== true && (event.instrument === 'vibraphone' || event.stopped === true);

/** Plays a performance on the audio clock. */
export const playPerformance = (band: Band, performance: Rendition, options: PlayOptions = {}): Playing => {
  const { context, desk, voices, strokes, clicks, clocks, pulse } = band;
  const owner = {};
  const { elsewhere } = options;
  const rate = Math.min(4, Math.max(0.25, options.rate ?? 1));
  let muted = options.muted ?? new Set<string>();

  const strokeCue = (event: SoundingEvent): Cue => ({
    at: event.seconds,
    prepare: () => void strokes.of(event),
    start: when => {
      if (event.part !== undefined && muted.has(event.part)) return;
      if (event.part !== undefined && elsewhere !== undefined) {
        const until = clocks.toPerformance(when + event.duration / rate);
        elsewhere.stroke(event, clocks.toPerformance(when), until);
        if (elsewhere.isOnlyThere()) return;
      }
      voices.start({
        ...balanced(strokes.atOnce(event), event),
        bar: barName(event.instrument, event.pitch),
        into: desk.into[event.instrument],
        at: when,
        owner,
        ...(isStopped(event) ? { dampAt: when + event.duration / rate } : {}),
      });
    },
  });
  const clickCue = (at: Seconds, accent: boolean): Cue => ({
    at,
    start: when =>
      void voices.start({ buffer: clicks.of(accent), gain: 1, into: desk.clickInto, at: when, owner }),
  });
  const pulseCue = ({ pulse, seconds }: ClockPulse): Cue => ({
    at: seconds,
    start: when => elsewhere?.pulse(pulse, clocks.toPerformance(when)),
  });
  const cues = [
    ...(elsewhere === undefined ? [] : (options.pulses ?? [])).map(pulseCue),
    ...performance.events.map(strokeCue),
    ...(options.click?.beats ?? []).map((at, i) => clickCue(at, options.click?.accents[i] ?? false)),
  ].sort((a, b) => a.at - b.at);

  const loop = typeof options.loop === 'object' ? options.loop : { from: 0, to: performance.duration };
  const looping = options.loop !== undefined && options.loop !== false && loop.to - loop.from > 0.05;
  const until = looping ? loop.to : Math.max(performance.duration, (cues.at(-1)?.at ?? 0) + 0.001);
  const firstFrom = (place: Seconds): number => {
    const index = cues.findIndex(cue => cue.at >= place);
    return index < 0 ? cues.length : index;
  };

  // `origin` is the audio time of `place`, where playing last began; passes of a loop follow on.
  let place = Math.min(Math.max(0, options.from ?? (looping ? loop.from : 0)), until);
  let origin = 0;
  let pass = { at: 0, from: place };
  let next = 0;
  let prepared = 0;
  let paused = false;
  let done = false;
  let stopTick: () => void = () => undefined;
  let stopFrames: () => void = () => undefined;

  const position = (): Seconds => {
    if (paused || done) return place;
    const gone = place + Math.max(0, clocks.heard() - origin) * rate;
    if (!looping || gone < until) return Math.min(gone, until);
    return loop.from + ((gone - until) % (until - loop.from));
  };

  const schedule = (): void => {
    const now = context.currentTime;
    const horizon = now + (document.hidden ? AHEAD_HIDDEN : AHEAD);
    for (;;) {
      const cue = cues[next];
      if (cue !== undefined && cue.at < until) {
        const when = pass.at + (cue.at - pass.from) / rate;
        if (when > horizon) break;
        if (when > now - TOO_LATE) cue.start(Math.max(when, now));
        next += 1;
      } else {
        const end = pass.at + (until - pass.from) / rate;
        if (!looping || end > horizon) break;
        pass = { at: end, from: loop.from };
        next = firstFrom(loop.from);
      }
    }
    elsewhere?.upTo(clocks.toPerformance(horizon));
    // A few strokes a tick are rendered before they are wanted.
    prepared = Math.max(prepared, next);
    for (const cue of cues.slice(prepared, prepared + 3)) cue.prepare?.();
    prepared = Math.min(cues.length, prepared + 3);
  };

  const halt = (): void => {
    stopTick();
    stopFrames();
    elsewhere?.stop();
    voices.silence(0.03, owner);
  };
  const finish = (): void => {
    place = until;
    done = true;
    stopTick();
    stopFrames();
    elsewhere?.stop();
    options.onPosition?.(until);
    options.onEnd?.();
  };
  const tick = (): void => {
    schedule();
    if (!looping && place + (clocks.heard() - origin) * rate >= until) finish();
  };
  const begin = (): void => {
    next = firstFrom(place);
    for (const cue of cues.slice(next, next + 4)) cue.prepare?.();
    origin = context.currentTime + LEAD;
    pass = { at: origin, from: place };
    elsewhere?.begin();
    schedule();
    stopTick = pulse.each(tick);
    if (options.onPosition !== undefined) stopFrames = everyFrame(() => options.onPosition?.(position()));
  };
  begin();

  return {
    stop: () => {
      if (done) return;
      place = position();
      done = true;
      halt();
    },
    pause: () => {
      if (done || paused) return;
      place = position();
      paused = true;
      halt();
    },
    resume: () => {
      if (done || !paused) return;
      paused = false;
      begin();
    },
    get paused() {
      return paused;
    },
    position,
    sinceStart: at => clocks.toAudio(at) - origin,
    setMuted: now => {
      muted = now;
    },
  };
};
