import type { Seconds } from '../../core/foundation/units.ts';
import { DAMPED_T60 } from '../../core/playback/struckBar.ts';

/** Most strokes that ring at once; the oldest gives way softly. */
export const MOST_VOICES = 32;

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
}

export interface Voices {
  start(voice: VoiceStart): { damp(at: Seconds): void };
  /** Fades out and ends every stroke of `owner`, or all. Nothing scheduled is left to sound. */
  silence(within: Seconds, owner?: object): void;
  /** How many strokes ring or are scheduled. */
  count(): number;
}

interface Voice {
  readonly source: AudioBufferSourceNode;
  readonly level: GainNode;
  readonly at: Seconds;
  readonly owner: object;
}

export const createVoices = (context: BaseAudioContext, most = MOST_VOICES): Voices => {
  const ringing = new Set<Voice>();

  const end = (voice: Voice, within: Seconds): void => {
    ringing.delete(voice);
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

  const damp = (voice: Voice, at: Seconds): void => {
    // 60 dB is 6.91 time constants.
    voice.level.gain.setTargetAtTime(0, at, DAMPED_T60 / 6.91);
    voice.source.stop(at + DAMPED_T60 * 1.5);
  };

  return {
    start: ({ buffer, gain, into, at, dampAt, owner }) => {
      if (ringing.size >= most) {
        const oldest = [...ringing].reduce((a, b) => (b.at < a.at ? b : a));
        end(oldest, 0.01);
      }
      const source = new AudioBufferSourceNode(context, { buffer });
      const level = new GainNode(context, { gain });
      source.connect(level).connect(into);
      const voice: Voice = { source, level, at, owner };
      ringing.add(voice);
      source.onended = () => {
        ringing.delete(voice);
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
      for (const voice of [...ringing]) if (owner === undefined || voice.owner === owner) end(voice, within);
    },
    count: () => ringing.size,
  };
};
