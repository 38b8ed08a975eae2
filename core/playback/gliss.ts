import type { MidiPitch } from '../foundation/units.ts';
import type { SoundingEvent } from './events.ts';

/** Later bars of a line are a little softer than the one it begins with (our choice). */
const LATER = 0.9;

/**
 * A glissando as the strokes that it is: its bars one after the other, evenly over the length of the note.
 * @param stroke the whole note as one stroke
 * @param after the bars struck after its own, as they sound
 * @example
 * const stroke = { seconds: 1, duration: 0.5, pitch: 60, velocity: 80, instrument: 'marimba', ref: 'a' };
 * glissStrokes(stroke, [62, 64, 65]).map(s => [s.seconds, s.pitch]) // => [[1, 60], [1.125, 62], [1.25, 64], [1.375, 65]]
 */
export const glissStrokes = (stroke: SoundingEvent, after: readonly MidiPitch[]): SoundingEvent[] => {
  const step = stroke.duration / (after.length + 1);
  return [stroke.pitch, ...after].map((pitch, i) => ({
    ...stroke,
    seconds: stroke.seconds + i * step,
    duration: step,
    pitch,
    velocity: i === 0 ? stroke.velocity : Math.max(1, Math.round(stroke.velocity * LATER)),
  }));
};
