import type { Hertz, Seconds } from '../../core/foundation/units.ts';
import type { Rendition } from '../../core/playback/events.ts';
import { INSTRUMENT_IDS } from '../../core/instruments/instruments.ts';
import { LONGEST_STROKE } from '../../core/playback/renderStroke.ts';
import { mixdown } from './mixdown.ts';
import { createMixer } from './mixer.ts';
import { createStrokes } from './strokes.ts';

/** Room for the last strokes to ring out after the performance's own length. */
export const RING_OUT: Seconds = 3;

/** Sound is handed over in stretches of this length; whole seconds, so that they meet at a sample. */
const STRETCH: Seconds = 2;

/** Strokes kept while a piece is rendered: all of four parts at four dynamics, or they would be made again and again. */
const KEPT_MEANWHILE = 256 * 2 ** 20;

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
  const strokes = createStrokes(sampleRate, KEPT_MEANWHILE);
  const samples = STRETCH * sampleRate;
  const parts = INSTRUMENT_IDS.map(id => ({
    id,
    events: performance.events.filter(event => event.instrument === id),
  }));
  const handOver = (stretch: number): void => {
    const from = stretch * samples;
    const [earliest, end] = [from / sampleRate - LONGEST_STROKE, (from + samples) / sampleRate];
    for (const { id, events } of parts) {
      const near = events.filter(event => event.seconds > earliest && event.seconds < end);
      const sound = mixdown(near, strokes, { from, length: samples, sampleRate });
      if (sound === undefined) continue;
      const buffer = new AudioBuffer({ numberOfChannels: 1, length: samples, sampleRate });
      buffer.copyToChannel(sound, 0);
      const source = new AudioBufferSourceNode(context, { buffer });
      source.connect(desk.into[id]);
      source.start(from / sampleRate);
    }
  };
  const stretches = Math.ceil(length / samples);
  handOver(0);
  for (let stretch = 1; stretch < stretches; stretch += 1) {
    // Handed over shortly before, so that a long piece does not lie in memory twice.
    if (canSuspend(context)) {
      void context.suspend((stretch - 0.5) * STRETCH).then(() => {
        handOver(stretch);
        return context.resume();
      });
    } else handOver(stretch);
  }
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
