import type { MidiPitch, Seconds } from '../foundation/units.ts';
import { decayTime, frequencyOf } from './barModes.ts';
import type { SoundingEvent } from './events.ts';
import { LONGEST_STROKE } from './renderStroke.ts';

/** How long a bar that is let ring is heard: until it has died away by 60 dB, or is faded out. */
const ringingTime = ({ instrument, pitch }: SoundingEvent): Seconds =>
  Math.min(LONGEST_STROKE, decayTime(instrument, frequencyOf(pitch), 0));

/**
 * Strokes of one part in order of time, each one that is let ring, or held by a pedal, held for as long as it is heard: until its bar has died
 * away, is struck again, or the pedal is let go. What only has notes on and off then ends when the sound does.
 * @example
 * const strokes = [0, 0.25].map(seconds => ({ seconds, duration: 0.25, pitch: 72, velocity: 80, instrument: 'marimba', rings: true }));
 * ringingOn(strokes).map(s => s.duration.toFixed(2)) // => ['0.25', '0.93']
 */
export const ringingOn = (strokes: readonly SoundingEvent[]): readonly SoundingEvent[] => {
  const again = new Map<MidiPitch, Seconds>();
  return [...strokes]
    .reverse()
    .map(stroke => {
      const next = again.get(stroke.pitch) ?? Infinity;
      again.set(stroke.pitch, stroke.seconds);
      if (stroke.rings !== true && stroke.heldUntil === undefined) return stroke;
      const until = stroke.rings === true ? Infinity : (stroke.heldUntil ?? stroke.seconds);
      const ends = Math.min(next, until, stroke.seconds + ringingTime(stroke));
      return { ...stroke, duration: Math.max(stroke.duration, ends - stroke.seconds) };
    })
    .reverse();
};
