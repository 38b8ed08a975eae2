import type { MidiPitch } from './units.ts';

/** A bar of a real instrument: which it is, and how it is tuned. */
export interface TunedBar {
  /** What it is meant to sound. */
  readonly sounding: MidiPitch;
  /** What it sounds, as a MIDI number between the semitones: 69 is 440 Hz. */
  readonly pitch: number;
}
