import type { Hertz, MidiPitch, Seconds, Velocity } from '../../core/foundation/units.ts';
import type { InstrumentId } from '../../core/instruments/instruments.ts';
import { malletFor, type MalletId } from '../../core/instruments/mallets.ts';
import { renderStroke } from '../../core/playback/renderStroke.ts';
import { type BarStroke, speedOf } from '../../core/playback/struckBar.ts';

/** Velocities that are rendered, from pp to between f and ff; others take the nearest one's colour and their own loudness. */
const LAYERS: readonly Velocity[] = [33, 57, 80, 104];
/** Rendered strokes kept at most; the longest unused go first. */
const MOST_BYTES = 96 * 2 ** 20;
/** A live stroke that nothing is ready for is cut to this, so that it need not wait to be made. */
const MADE_AT_ONCE: Seconds = 0.6;

/** What is struck: the parts of a stroke by which rendered ones are told apart. */
export type StrokeAsked = Pick<BarStroke, 'instrument' | 'pitch' | 'velocity' | 'mallet' | 'dead'>;

/** A rendered stroke and the factor that gives it the loudness asked for. */
export interface RenderedStroke {
  readonly buffer: AudioBuffer;
  readonly gain: number;
}

/** Rendered strokes, made when first wanted and kept. */
export interface Strokes {
  of(stroke: StrokeAsked): RenderedStroke;
  /**
   * Without waiting: the stroke itself where it is ready, else the same bar struck softer or harder, else the
   * beginning of it. The stroke itself is made afterwards.
   */
  atOnce(stroke: StrokeAsked): RenderedStroke;
  /** Whether another fits without one being dropped. */
  hasRoom(): boolean;
}

const layerFor = (velocity: Velocity): Velocity =>
  LAYERS.reduce((best, layer) => (Math.abs(layer - velocity) < Math.abs(best - velocity) ? layer : best));

const key = ({ instrument, pitch, mallet, dead }: StrokeAsked, layer: Velocity): string =>
  `${instrument} ${malletFor(instrument, mallet)} ${String(pitch)} ${String(layer)}${dead === true ? ' dead' : ''}`;

const gainOf = (velocity: Velocity, layer: Velocity): number =>
  speedOf(Math.max(1, velocity)) / speedOf(layer);

/** When the page has nothing else to do. */
const later = (work: () => void): void => {
  if (typeof requestIdleCallback === 'function') requestIdleCallback(work, { timeout: 500 });
  else setTimeout(work, 20);
};

/** @param most bytes kept at most */
export const createStrokes = (sampleRate: Hertz, most = MOST_BYTES): Strokes => {
  // A Map keeps the order of insertion: the first is the longest unused.
  const kept = new Map<string, AudioBuffer>();
  let bytes = 0;
  const size = (buffer: AudioBuffer): number => buffer.length * 4;

  const made = (stroke: BarStroke, longest?: Seconds): AudioBuffer => {
    const samples = renderStroke(stroke, sampleRate, longest);
    const buffer = new AudioBuffer({ numberOfChannels: 1, length: samples.length, sampleRate });
    buffer.getChannelData(0).set(samples);
    return buffer;
  };
  const rendered = (stroke: StrokeAsked, layer: Velocity): AudioBuffer => {
    const name = key(stroke, layer);
    const found = kept.get(name);
    if (found !== undefined) {
      kept.delete(name);
      kept.set(name, found);
      return found;
    }
    const buffer = made({ ...stroke, velocity: layer });
    kept.set(name, buffer);
    bytes += size(buffer);
    for (const [old, oldest] of kept) {
      if (bytes <= most) break;
      kept.delete(old);
      bytes -= size(oldest);
    }
    return buffer;
  };
  const of = (stroke: StrokeAsked): RenderedStroke => {
    const layer = layerFor(stroke.velocity);
    return { buffer: rendered(stroke, layer), gain: gainOf(stroke.velocity, layer) };
  };

  return {
    of,
    atOnce: stroke => {
      const wanted = layerFor(stroke.velocity);
      if (kept.has(key(stroke, wanted))) return of(stroke);
      later(() => {
        rendered(stroke, wanted);
      });
      const nearest = LAYERS.filter(layer => kept.has(key(stroke, layer))).sort(
        (a, b) => Math.abs(a - stroke.velocity) - Math.abs(b - stroke.velocity),
      )[0];
      const buffer =
        nearest === undefined
          ? made({ ...stroke, velocity: wanted }, MADE_AT_ONCE)
          : rendered(stroke, nearest);
      return { buffer, gain: gainOf(stroke.velocity, nearest ?? wanted) };
    },
    hasRoom: () => bytes < 0.9 * most,
  };
};

/** A run of bars to have ready: an instrument's sounding pitches `low` to `high`. */
export interface ToneBarRange {
  readonly instrument: InstrumentId;
  readonly low: MidiPitch;
  readonly high: MidiPitch;
  /** The usual one where absent. */
  readonly mallet?: MalletId | undefined;
}

/** mf first, for any layer that is ready can stand in for the others. */
const PREPARED: readonly Velocity[] = [80, 104, 57, 33];

/**
 * Renders a range while the page has nothing else to do, the middle layer first, so that the first
 * strike on a bar does not wait for its sound. Stops when told, and when no more fits.
 */
export const prepareIdly = (
  strokes: Strokes,
  { instrument, low, high, mallet }: ToneBarRange,
): (() => void) => {
  const wanted = PREPARED.flatMap(velocity =>
    Array.from({ length: Math.max(0, high - low + 1) }, (_, i) => ({ pitch: low + i, velocity })),
  );
  let stopped = false;
  const step = (): void => {
    const next = wanted.shift();
    if (stopped || next === undefined || !strokes.hasRoom()) return;
    strokes.of({ instrument, mallet, ...next });
    later(step);
  };
  later(step);
  return () => {
    stopped = true;
  };
};
