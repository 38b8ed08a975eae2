import type { MidiPitch, Seconds, Velocity } from '../foundation/units.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import type { MalletId } from '../instruments/mallets.ts';

/** One stroke to be heard. */
export interface SoundingEvent {
  /** From the start of the performance. */
  readonly seconds: Seconds;
  /**
   * How long it is held; matters where the bar is stopped at its end: on a vibraphone, and where `stopped` says so. What is
   * let ring is held until it has died away, for MIDI.
   */
  readonly duration: Seconds;
  /** As it sounds, not as it is written. */
  readonly pitch: MidiPitch;
  readonly velocity: Velocity;
  readonly instrument: InstrumentId;
  /** The bar is stopped by hand when its note ends (staccato). */
  readonly stopped?: boolean;
  /** It is not stopped when its note ends (let ring). */
  readonly rings?: boolean;
  /** A pedal holds it up to this place, if it is not struck again. */
  readonly heldUntil?: Seconds;
  /** The mallet stays on the bar. */
  readonly dead?: boolean;
  /** The instrument's usual one where absent. */
  readonly mallet?: MalletId;
  /** What on the page it belongs to, for the moving cursor. */
  readonly ref?: string;
  /** The part it belongs to, for silencing parts. */
  readonly part?: string;
  /** Loudness of its part against the others, in dB; absent for 0. */
  readonly balance?: number;
}

/** A performance: strokes in order of time, and how long it lasts. */
export interface Rendition {
  readonly events: readonly SoundingEvent[];
  readonly duration: Seconds;
}
