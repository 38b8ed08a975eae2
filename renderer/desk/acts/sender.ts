import {
  allNotesOff,
  CLOCK_CONTINUE,
  LAST_POSITION,
  type MidiMessage,
  noteOff,
  noteOn,
  programChange,
  songPosition,
  CLOCK_START,
  CLOCK_STOP,
  TIMING_CLOCK,
  volumeChange,
} from '../../../core/exchange/midiMessages.ts';
import type { MidiPitch, Seconds } from '../../../core/foundation/units.ts';
import { CLOCKS_A_POSITION } from '../../../core/playback/midiClock.ts';
import type { PlayedElsewhere } from '../../sound/player.ts';

/** How a performance is sent. */
export interface SentAs {
  /** By part; a part that is not there is not sent. Channels from 0. */
  readonly channels: ReadonlyMap<string, number>;
  /** What is set before the first note. */
  readonly sounds: readonly { readonly channel: number; readonly program: number; readonly volume: number }[];
  readonly clock: boolean;
  readonly isOnlyThere: () => boolean;
}

interface SentNote {
  readonly channel: number;
  readonly pitch: MidiPitch;
  readonly from: Seconds;
  readonly until: Seconds;
}

/** Between messages that must not arrive as one: a Start and its first clock are a millisecond apart at least (MIDI 1.0). */
const APART: Seconds = 0.001;

/**
 * A performance as MIDI messages with their times. A note-off is handed over only when it is near, for what was handed
 * over cannot be taken back, and must not end the same note of what is played next.
 * @param send a message, and when it is to leave on the clock of all input
 * @param now on that clock
 */
export const createSender = (
  send: (message: MidiMessage, at: Seconds) => void,
  now: () => Seconds,
  { channels, sounds, clock, isOnlyThere }: SentAs,
): PlayedElsewhere => {
  const open = new Map<string, SentNote>();
  let lastOn = -Infinity;
  let wentOn = -Infinity;
  /** The last clock; undefined while it is stopped. */
  let last: number | undefined;

  const end = (key: string, note: SentNote, at: Seconds): void => {
    open.delete(key);
    send(noteOff(note.channel, note.pitch), at);
  };
  const goOn = (pulse: number, at: Seconds): void => {
    wentOn = at - APART;
    if (pulse > 0) send(songPosition(pulse), at - 2 * APART);
    send(pulse > 0 ? CLOCK_CONTINUE : CLOCK_START, wentOn);
  };

  return {
    isOnlyThere,
    begin: () => {
      for (const { channel, program, volume } of sounds) {
        send(programChange(channel, program), now());
        send(volumeChange(channel, volume), now());
      }
    },
    stroke: ({ part = '', pitch, velocity }, at, until) => {
      const channel = channels.get(part);
      if (channel === undefined) return;
      const key = `${String(channel)} ${String(pitch)}`;
      const before = open.get(key);
      if (before !== undefined) end(key, before, Math.min(before.until, at));
      send(noteOn(channel, pitch, velocity), at);
      open.set(key, { channel, pitch, from: at, until: Math.max(until, at + APART) });
      lastOn = Math.max(lastOn, at);
    },
    pulse: (pulse, at) => {
      if (!clock) return;
      if (last === undefined || pulse !== last + 1) {
        // A position is told to a clock that stands still.
        if (last !== undefined) send(CLOCK_STOP, at - 3 * APART);
        last = undefined;
        if (pulse % CLOCKS_A_POSITION !== 0 || pulse > LAST_POSITION) return;
        goOn(pulse, at);
      }
      send(TIMING_CLOCK, at);
      last = pulse;
    },
    upTo: time => {
      for (const [key, note] of open) if (note.until <= time) end(key, note, note.until);
    },
    stop: () => {
      const at = now();
      if (last !== undefined) send(CLOCK_STOP, Math.max(at, wentOn + APART));
      last = undefined;
      // What was handed over still comes: each of these ends when it begins.
      for (const [key, note] of open) end(key, note, Math.max(at, note.from));
      for (const channel of new Set(channels.values())) {
        send(allNotesOff(channel), at);
        if (lastOn > at) send(allNotesOff(channel), lastOn + APART);
      }
      lastOn = -Infinity;
    },
  };
};
