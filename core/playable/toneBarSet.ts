import { isNatural } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { InstrumentId } from '../instruments/instruments.ts';

/** A bar that can be put in the place of another on an instrument of one row (F♯ for F). */
export interface ExchangeToneBar {
  readonly pitch: MidiPitch;
  readonly inPlaceOf: MidiPitch;
  readonly isIn: boolean;
}

/** The bars one instrument of a room has. All pitches as written. */
export interface ToneBarSet {
  readonly id: string;
  readonly name: string;
  /** The instrument of the score it stands for first. */
  readonly plays: InstrumentId;
  /** Semitones added to what is written to reach what sounds. */
  readonly soundsAbove: number;
  /** Lowest and highest bar, both natural. */
  readonly low: MidiPitch;
  readonly high: MidiPitch;
  /** Whether it has the row of accidentals behind. */
  readonly accidentals: boolean;
  /** Bars the room does not have. */
  readonly missing: readonly MidiPitch[];
  /** Bars taken off that lie ready. */
  readonly lifted: readonly MidiPitch[];
  readonly exchange: readonly ExchangeToneBar[];
}

/**
 * How a pitch stands on a set. `there` can be struck; `lifted` can be put back; `exchange` can be put
 * in; `replaced` gave way to an exchange bar; `missing` is not in the room; `none`: such a set has no
 * bar of that name.
 */
export type ToneBarState =
  'there' | 'lifted' | 'exchange' | 'replaced' | 'missing' | 'none' | 'below' | 'above';

/**
 * How a written MIDI pitch stands on a set.
 * @example
 * toneBarState(concertSet('xylophone'), 20) // => 'below'
 */
export const toneBarState = (set: ToneBarSet, pitch: MidiPitch): ToneBarState => {
  const exchange = set.exchange.find(
    e => e.pitch === pitch && e.inPlaceOf >= set.low && e.inPlaceOf <= set.high,
  );
  if (exchange !== undefined) return exchange.isIn ? 'there' : 'exchange';
  if (pitch < set.low) return 'below';
  if (pitch > set.high) return 'above';
  if (!set.accidentals && !isNatural(pitch)) return 'none';
  if (set.exchange.some(e => e.inPlaceOf === pitch && e.isIn)) return 'replaced';
  if (set.missing.includes(pitch)) return 'missing';
  return set.lifted.includes(pitch) ? 'lifted' : 'there';
};

/**
 * Every pitch from the lowest to the highest place of a set, bars or not.
 * @example
 * pitchesOf(concertSet('xylophone')).length // => 96 - 53 + 1
 */
export const pitchesOf = (set: ToneBarSet): readonly MidiPitch[] =>
  Array.from({ length: set.high - set.low + 1 }, (_, i) => set.low + i);

/**
 * The bars that can be struck, low to high.
 * @example
 * toneBarsOf(concertSet('glockenspiel'))[0] // => 55
 */
export const toneBarsOf = (set: ToneBarSet): readonly MidiPitch[] =>
  Array.from({ length: set.high - set.low + 3 }, (_, i) => set.low - 1 + i).filter(
    pitch => toneBarState(set, pitch) === 'there',
  );

/**
 * A bar put on, lifted off, or struck from what the room has.
 * @example
 * toneBarState(withToneBar(concertSet('xylophone'), 65, 'lifted'), 65) // => 'lifted'
 */
export const withToneBar = (
  set: ToneBarSet,
  pitch: MidiPitch,
  state: 'there' | 'lifted' | 'missing',
): ToneBarSet => {
  const changed = (list: readonly MidiPitch[], name: 'lifted' | 'missing'): readonly MidiPitch[] =>
    [...list.filter(p => p !== pitch), ...(state === name ? [pitch] : [])].sort((a, b) => a - b);
  return { ...set, missing: changed(set.missing, 'missing'), lifted: changed(set.lifted, 'lifted') };
};

/** An exchange bar put in, or its natural again. */
export const withExchange = (set: ToneBarSet, pitch: MidiPitch, isIn: boolean): ToneBarSet => ({
  ...set,
  exchange: set.exchange.map(e => (e.pitch === pitch ? { ...e, isIn } : e)),
});

/**
 * Another lowest or highest bar; an accidental, or ends that cross, change nothing.
 * @example
 * withEnds(concertSet('xylophone'), 60, 72).low // => 60
 * withEnds(concertSet('xylophone'), 61, 72).low // => 53
 */
export const withEnds = (set: ToneBarSet, low: MidiPitch, high: MidiPitch): ToneBarSet =>
  low < high && isNatural(low) && isNatural(high) ? { ...set, low, high } : set;
