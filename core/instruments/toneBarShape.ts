import { frequency, isNatural } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';

/** One bar of an instrument as it lies before the player; all measures are shares of the frame, 0 to 1. */
export interface ToneBarShape {
  readonly pitch: MidiPitch;
  readonly natural: boolean;
  /** Left edge and width, as shares of the frame's width. */
  readonly x: number;
  readonly width: number;
  /** Length as a share of the longest bar's. */
  readonly length: number;
}

/** Where the cord runs: the nodes of a free bar's first mode lie 22.4 % of its length from each end (Fletcher & Rossing). */
export const NODE = 0.224;

/**
 * The bars from `low` to `high` (both natural), naturals in front and accidentals behind, at the
 * boundary of their neighbours. A uniform bar's frequency goes as one over its length squared, so
 * length goes as one over the square root of frequency: two octaves up is half as long.
 * @example
 * toneBarShapes(60, 84).at(-1).length // => 0.5
 */
export const toneBarShapes = (low: MidiPitch, high: MidiPitch): readonly ToneBarShape[] => {
  const pitches = Array.from({ length: high - low + 1 }, (_, i) => low + i);
  const naturals = pitches.filter(isNatural);
  const pace = 1 / naturals.length;
  const lowest = frequency(low);
  return pitches.map(pitch => {
    const natural = isNatural(pitch);
    const index = naturals.filter(p => p < pitch).length;
    const width = pace * (natural ? 0.86 : 0.68);
    const centre = natural ? (index + 0.5) * pace : index * pace;
    return { pitch, natural, x: centre - width / 2, width, length: Math.sqrt(lowest / frequency(pitch)) };
  });
};
