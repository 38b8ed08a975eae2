import type { Hertz, Seconds } from '../../core/foundation/units.ts';
import { DAMPED_T60 } from '../../core/playback/barModes.ts';
import type { SoundingEvent } from '../../core/playback/events.ts';
import { balanced, isStopped } from './player.ts';
import type { Strokes } from './strokes.ts';

/** A damper's time constant, and when what it leaves is cut: as `voices.ts` does it live. */
const FALLS: Seconds = DAMPED_T60 / 6.91;
const GONE: Seconds = DAMPED_T60 * 1.5;

/** Adds what a stroke sounds like between two samples of the whole. */
const addStroke = (
  into: Float32Array,
  from: number,
  stroke: {
    readonly samples: Float32Array;
    readonly gain: number;
    readonly start: number;
    readonly damp: number;
  },
  sampleRate: Hertz,
): void => {
  const { samples, gain, start, damp } = stroke;
  const end = Math.min(start + samples.length, from + into.length, damp + Math.round(GONE * sampleRate));
  const begin = Math.max(start, from);
  const open = Math.min(end, Math.max(begin, damp));
  for (let i = begin; i < open; i += 1)
    into[i - from] = (into[i - from] ?? 0) + gain * (samples[i - start] ?? 0);
  const shrink = Math.exp(-1 / (FALLS * sampleRate));
  let level = gain * shrink ** Math.max(0, open - damp);
  for (let i = open; i < end; i += 1) {
    into[i - from] = (into[i - from] ?? 0) + level * (samples[i - start] ?? 0);
    level *= shrink;
  }
};

/**
 * The strokes of one instrument added up, for a stretch of the whole: a browser that is handed every stroke as a node
 * of its own takes ten times as long. Undefined where none sounds.
 * @param from and @param length in samples
 */
export const mixdown = (
  events: readonly SoundingEvent[],
  strokes: Strokes,
  { from, length, sampleRate }: { from: number; length: number; sampleRate: Hertz },
): Float32Array<ArrayBuffer> | undefined => {
  let out: Float32Array<ArrayBuffer> | undefined;
  for (const event of events) {
    const start = Math.round(Math.max(0, event.seconds) * sampleRate);
    if (start >= from + length) continue;
    const damp = isStopped(event) ? start + Math.round(Math.max(0, event.duration) * sampleRate) : Infinity;
    if (damp + GONE * sampleRate < from) continue;
    const { buffer, gain } = balanced(strokes.of(event), event);
    if (start + buffer.length <= from) continue;
    out ??= new Float32Array(length);
    addStroke(out, from, { samples: buffer.getChannelData(0), gain, start, damp }, sampleRate);
  }
  return out;
};
