import { inScale, type Key, scaleMidi, type ScalePitch, toScale } from '../foundation/key.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { ReadGlissando } from '../reading/model/reading.ts';

/** A glissando on a note: from its bar the mallet is drawn over the bars between, as long as the note lasts. */
export interface Glissando {
  /** Where the line ends; where the next note has that pitch, and begins as this one ends, the line leads to it. */
  readonly to: ScalePitch;
  /** The bars it is drawn over: all of them, or the front row whatever the key; absent for those of the key's scale. */
  readonly over?: 'all' | 'naturals';
}

const NATURALS: ReadonlySet<number> = new Set([0, 2, 4, 5, 7, 9, 11]);
const isNatural = (pitch: MidiPitch): boolean => NATURALS.has(((pitch % 12) + 12) % 12);

/** More bars than this nobody draws a mallet over: no instrument has them. */
const MOST_BARS = 128;

/**
 * Which bars strokes were drawn over, told by those between the first and the last: every one of both rows; else those
 * of the scale or the front row, whichever has all of these and fewer others.
 * @param struck MIDI pitches in order of time
 * @example
 * barsDrawnOver(key('G'), [60, 61, 62, 63, 64]) // => 'all'
 * barsDrawnOver(key('G'), [60, 62, 64, 66, 67]) // => undefined
 * barsDrawnOver(key('G'), [60, 62, 64, 65, 67]) // => 'naturals'
 * barsDrawnOver(key('G'), [65, 67, 69, 71, 72]) // => 'naturals'
 */
export const barsDrawnOver = (k: Key, struck: readonly MidiPitch[]): Glissando['over'] => {
  const isEvery = struck.every((pitch, i) => i === 0 || Math.abs(pitch - (struck[i - 1] ?? pitch)) === 1);
  if (isEvery && struck.length > 2) return 'all';
  const between = struck.slice(1, -1);
  const isOfScale = between.every(pitch => inScale(k, pitch));
  if (!between.every(isNatural) || between.length === 0) return undefined;
  if (!isOfScale) return 'naturals';
  // A line that begins or ends beside the scale would strike a bar of the scale there that nobody struck.
  const ends = [struck[0] ?? 0, struck.at(-1) ?? 0].map(pitch => toScale(k, pitch));
  const others = (over: { readonly over?: 'naturals' }): number =>
    ends[0] === undefined || ends[1] === undefined
      ? 0
      : barsBetween(k, ends[0], { to: ends[1], ...over }).length;
  return others({ over: 'naturals' }) < others({}) ? 'naturals' : undefined;
};

/** A line that was read, as a motif has it: where it ends, and over which bars it is drawn. */
export const glissandoIn = (k: Key, { strokes, to }: ReadGlissando): Glissando => {
  const struck = strokes.map(stroke => stroke.pitch);
  const over = barsDrawnOver(k, struck.at(-1) === to ? struck : [...struck, to]);
  return { to: toScale(k, to), ...(over === undefined ? {} : { over }) };
};

/**
 * The bars a glissando strikes between its two ends, in order.
 * @param k the key it sounds in
 * @returns MIDI pitches; none where its ends are neighbours
 * @example
 * barsBetween(key('G'), { degree: 28, alter: 0 }, { to: { degree: 33, alter: 0 } }) // => [69, 71, 72, 74]
 */
export const barsBetween = (k: Key, from: ScalePitch, { to, over }: Glissando): readonly MidiPitch[] => {
  const [first, last] = [scaleMidi(k, from), scaleMidi(k, to)];
  const [low, high] = [Math.min(first, last), Math.max(first, last)];
  const bars: MidiPitch[] = [];
  if (over === undefined) {
    // An altered note lies beside its degree: degrees are counted from the plain one under the lower end.
    for (let degree = toScale(k, low).degree - 1; bars.length < MOST_BARS; degree++) {
      const pitch = scaleMidi(k, { degree, alter: 0 });
      if (pitch >= high) break;
      if (pitch > low) bars.push(pitch);
    }
  } else
    for (let pitch = low + 1; pitch < high && bars.length < MOST_BARS; pitch++)
      if (over === 'all' || isNatural(pitch)) bars.push(pitch);
  return first <= last ? bars : bars.reverse();
};
