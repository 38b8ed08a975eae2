import type { Hertz, Seconds } from '../../core/foundation/units.ts';
import type { Rendition, SoundingEvent } from '../../core/playback/events.ts';
import { balanced, isStopped } from './player.ts';
import { createMixer } from './mixer.ts';
import { createStrokes } from './strokes.ts';
import { createVoices } from './voices.ts';

/** Room for the last strokes to ring out after the performance's own length. */
export const RING_OUT: Seconds = 3;

/** Strokes are handed over in stretches of this length. */
const STRETCH: Seconds = 2;

/** Some browsers cannot pause an offline rendering. */
const canSuspend = (context: OfflineAudioContext): boolean =>
  typeof (context as { suspend?: unknown }).suspend === 'function';

export interface Rendered {
  readonly left: Float32Array;
  readonly right: Float32Array;
}

/**
 * The performance as sound, through the same desk as when it is played, at full volume, with no
 * stroke left out; faster than real time. For the WAV file and for tests.
 * @param sampleRate 44100 or 48000 as a rule
 * @param swells of the vibraphone's motor, a second; 0 for none
 */
export const renderOffline = async (
  performance: Rendition,
  sampleRate: Hertz,
  swells: Hertz = 0,
): Promise<Rendered> => {
  const length = Math.ceil((performance.duration + RING_OUT) * sampleRate);
  const context = new OfflineAudioContext({ numberOfChannels: 2, length, sampleRate });
  const desk = createMixer(context, 0, swells);
  const voices = createVoices(context, Infinity);
  const strokes = createStrokes(sampleRate);
  const owner = {};
  const schedule = (event: SoundingEvent): void => {
    voices.start({
      ...balanced(strokes.of(event), event),
      into: desk.into[event.instrument],
      at: event.seconds,
      owner,
      ...(isStopped(event) ? { dampAt: event.seconds + event.duration } : {}),
    });
  };
  if (canSuspend(context)) {
    // Strokes that wait cost as much as strokes that sound, so each is handed over shortly before.
    const end = performance.duration + RING_OUT;
    for (let from = 0; from < end; from += STRETCH) {
      const due = performance.events.filter(
        ({ seconds: at }) => Math.floor(Math.max(0, at) / STRETCH) * STRETCH === from,
      );
      if (due.length === 0) continue;
      if (from === 0) due.forEach(schedule);
      else {
        void context.suspend(from - STRETCH / 2).then(() => {
          due.forEach(schedule);
          return context.resume();
        });
      }
    }
  } else performance.events.forEach(schedule);
  const buffer = await context.startRendering();
  const [left, right] = [buffer.getChannelData(0), buffer.getChannelData(1)];
  // The file ends in silence, not in a cut.
  const fade = Math.round(0.5 * sampleRate);
  for (let i = 0; i < fade; i += 1) {
    const at = length - fade + i;
    const gain = 1 - (i + 1) / fade;
    left[at] = (left[at] ?? 0) * gain;
    right[at] = (right[at] ?? 0) * gain;
  }
  return { left, right };
};
