import type { Hertz, MidiPitch, Velocity } from '../../core/foundation/units.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import { renderStroke } from '../../core/playback/renderStroke.ts';
import { strokePeak } from '../../core/playback/struckBar.ts';

/** Velocities that are rendered; others take the nearest one's colour and their own loudness. */
const LAYERS: readonly Velocity[] = [40, 80, 120];
/** Rendered strokes kept at most; the longest unused go first. */
const MOST_BYTES = 96 * 2 ** 20;

/** A rendered stroke and the factor that gives it the loudness asked for. */
export interface RenderedStroke {
  readonly buffer: AudioBuffer;
  readonly gain: number;
}

/** Rendered strokes, made when first wanted and kept. */
export interface Strokes {
  /** @param pitch as it sounds */
  of(instrument: InstrumentId, pitch: MidiPitch, velocity: Velocity): RenderedStroke;
  has(instrument: InstrumentId, pitch: MidiPitch, velocity: Velocity): boolean;
}

const layerFor = (velocity: Velocity): Velocity =>
  LAYERS.reduce((best, layer) => (Math.abs(layer - velocity) < Math.abs(best - velocity) ? layer : best));

const key = (instrument: InstrumentId, pitch: MidiPitch, velocity: Velocity): string =>
  `${instrument} ${String(pitch)} ${String(layerFor(velocity))}`;

export const createStrokes = (sampleRate: Hertz): Strokes => {
  // A Map keeps the order of insertion: the first is the longest unused.
  const kept = new Map<string, AudioBuffer>();
  let bytes = 0;
  const size = (buffer: AudioBuffer): number => buffer.length * 4;

  const rendered = (instrument: InstrumentId, pitch: MidiPitch, velocity: Velocity): AudioBuffer => {
    const name = key(instrument, pitch, velocity);
    const found = kept.get(name);
    if (found !== undefined) {
      kept.delete(name);
      kept.set(name, found);
      return found;
    }
    const samples = renderStroke(instrument, pitch, layerFor(velocity), sampleRate);
    const buffer = new AudioBuffer({ numberOfChannels: 1, length: samples.length, sampleRate });
    buffer.getChannelData(0).set(samples);
    kept.set(name, buffer);
    bytes += size(buffer);
    for (const [old, oldest] of kept) {
      if (bytes <= MOST_BYTES) break;
      kept.delete(old);
      bytes -= size(oldest);
    }
    return buffer;
  };

  return {
    of: (instrument, pitch, velocity) => ({
      buffer: rendered(instrument, pitch, velocity),
      gain: strokePeak(velocity) / strokePeak(layerFor(velocity)),
    }),
    has: (instrument, pitch, velocity) => kept.has(key(instrument, pitch, velocity)),
  };
};

/** A run of bars to have ready: an instrument's sounding pitches `low` to `high`. */
export interface ToneBarRange {
  readonly instrument: InstrumentId;
  readonly low: MidiPitch;
  readonly high: MidiPitch;
}

/**
 * Renders a range while the page has nothing else to do, the middle layer first, so that the first
 * strike on a bar does not wait for its sound. Stops when told.
 */
export const prepareIdly = (strokes: Strokes, { instrument, low, high }: ToneBarRange): (() => void) => {
  const wanted = [80, 120, 40].flatMap(velocity =>
    Array.from({ length: Math.max(0, high - low + 1) }, (_, i) => ({ pitch: low + i, velocity })),
  );
  let stopped = false;
  const later = (work: () => void): void => {
    if (typeof requestIdleCallback === 'function') requestIdleCallback(work, { timeout: 500 });
    else setTimeout(work, 20);
  };
  const step = (): void => {
    const next = wanted.shift();
    if (stopped || next === undefined) return;
    strokes.of(instrument, next.pitch, next.velocity);
    later(step);
  };
  later(step);
  return () => {
    stopped = true;
  };
};
