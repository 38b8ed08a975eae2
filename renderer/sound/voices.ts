import type { MidiPitch, Seconds } from '../../core/foundation/units.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import { DAMPED_T60 } from '../../core/playback/barModes.ts';

/** Most strokes that ring at once; the oldest gives way softly, when the new one begins. */
export const MOST_VOICES = 32;
/** Most strokes of one bar: struck again and again, as in a roll, a bar does not ring four times over. */
const MOST_ON_BAR = 4;
/** Time in which a stroke that gives way has fallen to a hundredth. */
const GIVES_WAY: Seconds = 0.06;

/** A bar's name among the voices. @example barName('marimba', 60) // 'marimba 60' */
export const barName = (instrument: InstrumentId, pitch: MidiPitch): string =>
  `${instrument} ${String(pitch)}`;

export interface VoiceStart {
  readonly buffer: AudioBuffer;
  readonly gain: number;
  readonly into: AudioNode;
  /** On the context's clock; a time already past means at once. */
  readonly at: Seconds;
  /** When a damper falls on the bar, if it has one. */
  readonly dampAt?: Seconds;
  /** Whoever started it, so that one player's strokes can be silenced alone. */
  readonly owner: object;
  /** Which bar it is, so that strokes of one bar give way to each other first. */
  readonly bar?: string | undefined;
}

export interface Voices {
  start(voice: VoiceStart): { damp(at: Seconds): void };
  /** Fades out and ends every stroke of `owner`, or all. Nothing scheduled is left to sound. */
  silence(within: Seconds, owner?: object): void;
  /** How many strokes ring or are scheduled, those left out that give way. */
  count(): number;
}

interface Voice {
  readonly source: AudioBufferSourceNode;
  readonly level: GainNode;
  readonly at: Seconds;
  readonly owner: object;
  readonly bar: string | undefined;
}

export const createVoices = (context: BaseAudioContext, most = MOST_VOICES): Voices => {
  const ringing = new Set<Voice>();
  const leaving = new Set<Voice>();

  const end = (voice: Voice, within: Seconds): void => {
    ringing.delete(voice);
    leaving.delete(voice);
    const now = context.currentTime;
    const { gain } = voice.level;
    if (voice.at > now) {
      // Not begun: a stop before the start means it never sounds.
      voice.source.stop(0);
      voice.level.disconnect();
      return;
    }
    const present = gain.value;
    gain.cancelScheduledValues(0);
    gain.setValueAtTime(present, now);
    gain.linearRampToValueAtTime(0, now + within);
    voice.source.stop(now + within + 0.001);
  };

  /** Fades from the moment another begins, which may lie ahead: until then it sounds, begun or not. */
  const giveWay = (voice: Voice, to: Seconds): void => {
    ringing.delete(voice);
    leaving.add(voice);
    const from = Math.max(to, context.currentTime);
    // A hundredth is 4.6 time constants.
    voice.level.gain.setTargetAtTime(0, from, GIVES_WAY / 4.6);
    voice.source.stop(from + 2 * GIVES_WAY);
  };
  const makeRoom = (among: readonly Voice[], limit: number, to: Seconds): void => {
    if (among.length < limit) return;
    giveWay(
      among.reduce((a, b) => (b.at < a.at ? b : a)),
      to,
    );
  };

  const damp = (voice: Voice, at: Seconds): void => {
    // 60 dB is 6.91 time constants.
    voice.level.gain.setTargetAtTime(0, at, DAMPED_T60 / 6.91);
    voice.source.stop(at + DAMPED_T60 * 1.5);
  };

  return {
    start: ({ buffer, gain, into, at, dampAt, owner, bar }) => {
      if (most < Infinity) {
        if (bar !== undefined) {
          makeRoom(
            [...ringing].filter(other => other.bar === bar),
            MOST_ON_BAR,
            at,
          );
        }
        makeRoom([...ringing], most, at);
      }
      const source = new AudioBufferSourceNode(context, { buffer });
      const level = new GainNode(context, { gain });
      source.connect(level).connect(into);
      const voice: Voice = { source, level, at, owner, bar };
      ringing.add(voice);
      source.onended = () => {
        ringing.delete(voice);
        leaving.delete(voice);
        level.disconnect();
      };
      source.start(Math.max(0, at));
      if (dampAt !== undefined) damp(voice, dampAt);
      return {
        damp: when => {
          if (ringing.has(voice)) damp(voice, Math.max(when, context.currentTime));
        },
      };
    },
    silence: (within, owner) => {
      for (const voice of [...ringing, ...leaving])
        if (owner === undefined || voice.owner === owner) end(voice, within);
    },
    count: () => ringing.size,
  };
};
