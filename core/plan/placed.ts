import type { Fraction } from '../foundation/fraction.ts';
import type { Spelled } from '../foundation/pitch.ts';
import type { MidiPitch } from '../foundation/units.ts';
import type { Dynamic, Hairpin } from './dynamics.ts';

/** A glissando with its bars. */
export interface PlacedGlissando {
  readonly to: Spelled;
  readonly between: readonly MidiPitch[];
}

/** A note placed in time and spelled, before it is cut at barlines and beats. */
export interface PlacedNote {
  /** From the first full barline, in semibreves. */
  readonly onset: Fraction;
  readonly duration: Fraction;
  readonly pitch: Spelled;
  /** What it is in the piece or reading it comes from. */
  readonly ref: string;
  /** A grace note struck just before this one (a flam or an ornament). */
  readonly grace?: Spelled;
  /** With it: grace notes before that one, first one first. */
  readonly ruff?: readonly Spelled[];
  readonly articulation?: 'accent' | 'staccato' | 'tenuto';
  /** A mark that begins at this note and holds until the next one. */
  readonly dynamic?: Dynamic;
  /** Grows louder or softer from here to the note where it ends. */
  readonly hairpin?: Hairpin;
  readonly hairpinEnds?: true;
  /** Where a slur begins or ends. */
  readonly slur?: 'start' | 'stop';
  /** The pedal goes down at this note, or up where it ends. */
  readonly pedal?: true;
  readonly pedalEnds?: true;
  /** Held longer than written. */
  readonly fermata?: true;
  /** Rolled: struck over and over for as long as it lasts. */
  readonly roll?: true;
  /** Drawn from here: where the line ends, and the bars struck between, as MIDI pitches. */
  readonly gliss?: PlacedGlissando;
  /** Left to ring on after its end. */
  readonly ring?: true;
  /** A dead stroke: the mallet stays on the bar. */
  readonly dead?: true;
  /** Words over the stave. */
  readonly words?: string;
}
