import type { MidiPitch, Velocity } from '../foundation/units.ts';
import { CLOCKS_A_POSITION } from '../playback/midiClock.ts';

/** The bytes of one MIDI message (MIDI 1.0 detailed specification, table of status bytes). */
export type MidiMessage = readonly [number, ...number[]];

const CHANNELS = 16;
/** The tenth channel, counted from 0: General MIDI has drums there. */
const DRUMS = 9;

const data = (value: number): number => Math.min(127, Math.max(0, Math.round(value)));
const status = (kind: number, channel: number): number => kind | (channel & 15);

/** @param channel from 0 to 15 */
export const noteOn = (channel: number, pitch: MidiPitch, velocity: Velocity): MidiMessage => [
  status(0x90, channel),
  data(pitch),
  // A velocity of 0 would end the note.
  Math.max(1, data(velocity)),
];

/** @param channel from 0 to 15 */
export const noteOff = (channel: number, pitch: MidiPitch): MidiMessage => [
  status(0x80, channel),
  data(pitch),
  0,
];

/** Another sound. @param program from 0 to 127 */
export const programChange = (channel: number, program: number): MidiMessage => [
  status(0xc0, channel),
  data(program),
];

/** How loud a channel is against the others (controller 7). */
export const volumeChange = (channel: number, volume: number): MidiMessage => [
  status(0xb0, channel),
  7,
  data(volume),
];

/**
 * A pedal that holds what sounds (controller 64: from 64 on it is down; MIDI 1.0 detailed specification).
 * @example
 * pedalChange(2, true) // => [178, 64, 127]
 */
export const pedalChange = (channel: number, isDown: boolean): MidiMessage => [
  status(0xb0, channel),
  64,
  isDown ? 127 : 0,
];

/** Ends every note of a channel (controller 123). */
export const allNotesOff = (channel: number): MidiMessage => [status(0xb0, channel), 123, 0];

export const TIMING_CLOCK: MidiMessage = [0xf8];
export const CLOCK_START: MidiMessage = [0xfa];
export const CLOCK_CONTINUE: MidiMessage = [0xfb];
export const CLOCK_STOP: MidiMessage = [0xfc];

/** The farthest place a song position pointer can tell, in MIDI clocks. */
export const LAST_POSITION = 0x3fff * CLOCKS_A_POSITION;

/**
 * Where the next Continue begins.
 * @param pulse in MIDI clocks from the start, a multiple of six up to `LAST_POSITION`
 * @example
 * songPosition(96) // => [242, 16, 0]
 * songPosition(6 * 200) // => [242, 72, 1]
 */
export const songPosition = (pulse: number): MidiMessage => {
  const position = Math.floor(pulse / CLOCKS_A_POSITION);
  return [0xf2, position & 127, (position >> 7) & 127];
};

/**
 * The channel of a part: one of its own from `first` on, passing over the tenth, or `first` for all.
 * @param index of the part, from 0
 * @param first from 0 to 15
 * @example
 * channelOf(3, 0, true) // => 3
 * channelOf(2, 8, true) // => 11
 * channelOf(3, 4, false) // => 4
 */
export const channelOf = (index: number, first: number, isOwn: boolean): number => {
  if (!isOwn) return first;
  const free = Array.from({ length: CHANNELS }, (_, i) => (first + i) % CHANNELS).filter(
    channel => channel !== DRUMS || first === DRUMS,
  );
  return free[index % free.length] ?? first;
};
