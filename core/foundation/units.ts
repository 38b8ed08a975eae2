/**
 * The units numbers carry where two could be taken for one another. A brand costs nothing at run time; it
 * stops milliseconds from being handed to something that wants seconds. A plain number, and whatever
 * arithmetic gives, is taken for any of them: declare what it is where it is named.
 */
declare const unit: unique symbol;
type Branded<Base, Name extends string> = Base & { readonly [unit]?: Name };

/** Time on one monotonic clock, in seconds. Never wall-clock time. */
export type Seconds = Branded<number, 'seconds'>;
/** A short time, in milliseconds. */
export type Milliseconds = Branded<number, 'milliseconds'>;
/** Beats a minute; which note value a beat is, is said beside it. Range 1 to 999. */
export type Bpm = Branded<number, 'bpm'>;
/** A MIDI note number, 0 to 127; 60 is middle C (C4). */
export type MidiPitch = Branded<number, 'midi pitch'>;
/** How hard a strike was, 1 to 127, as MIDI says it. */
export type Velocity = Branded<number, 'velocity'>;
/** Frequency in cycles a second. */
export type Hertz = Branded<number, 'hertz'>;
/** Which bar of a score, counted from 0; an upbeat bar is one too. */
export type BarIndex = Branded<number, 'bar index'>;
/** Which bar, counted from 1 as musicians and printed pages do; an upbeat is bar 0. */
export type BarNumber = Branded<number, 'bar number'>;
/** A position or length in semibreves that need not be exact; exact ones are a `Fraction`. */
export type Semibreves = Branded<number, 'semibreves'>;
/** A position or length on a grid of whole ticks; how many make a semibreve is said where the grid is. */
export type Ticks = Branded<number, 'ticks'>;
/** A cost: minus the natural logarithm of a chance. */
export type Nats = Branded<number, 'nats'>;
