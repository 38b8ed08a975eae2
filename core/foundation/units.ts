/**
 * The units every number in Malletloom carries. A brand costs nothing at run time; it stops
 * milliseconds from being handed to something that wants seconds.
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
