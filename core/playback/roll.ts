import type { Seconds } from '../foundation/units.ts';
import type { SoundingEvent } from './events.ts';

/** From one stroke of a roll to the next, hand after hand: some twelve a second (common practice, no source). */
const ROLL_STROKE: Seconds = 1 / 12;
/** Later strokes are softer than the one that begins the note (our choice). */
const LATER = 0.85;

/**
 * A note struck over and over for as long as it lasts, evenly; of notes together one hand strikes each, in turn. At
 * least two strokes of each.
 * @param stroke the whole note as one stroke
 * @param roll as which of how many notes together it is struck, from 0
 * @example
 * const stroke = { seconds: 1, duration: 0.5, pitch: 60, velocity: 80, instrument: 'marimba', ref: 'a' };
 * rollStrokes(stroke, { turn: 0, of: 1 }).length // => 6
 */
export const rollStrokes = (
  stroke: SoundingEvent,
  roll: { readonly turn: number; readonly of: number },
): SoundingEvent[] => {
  const each = Math.max(2, Math.round(stroke.duration / ROLL_STROKE / roll.of));
  const step = stroke.duration / each;
  // The first strokes are together, where the note is written.
  const late = (roll.turn * step) / roll.of;
  return Array.from({ length: each }, (_, i) => ({
    ...stroke,
    seconds: stroke.seconds + i * step + (i === 0 ? 0 : late),
    duration: i === 0 ? step + (each > 1 ? late : 0) : i === each - 1 ? step - late : step,
    velocity: i === 0 ? stroke.velocity : Math.max(1, Math.round(stroke.velocity * LATER)),
  }));
};
