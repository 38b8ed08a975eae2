import type { MidiPitch, Velocity } from '../foundation/units.ts';

/** What a MIDI message says to us. */
export type MidiNote =
  | { readonly kind: 'on'; readonly pitch: MidiPitch; readonly velocity: Velocity }
  | { readonly kind: 'off'; readonly pitch: MidiPitch };

export interface MidiReading {
  /** Undefined for every message that is no note of ours. */
  readonly note: MidiNote | undefined;
  /** The channel status that a following message may leave out ("running status"). */
  readonly running: number | undefined;
}

/** Channel 10 on the front of the instrument is 9 on the wire: percussion, in General MIDI. */
const PERCUSSION = 9;

const isData = (byte: number | undefined): byte is number => byte !== undefined && byte >= 0 && byte < 0x80;

/**
 * Reads one MIDI 1.0 channel voice message: 8n = note off, 9n = note on, velocity 0 in a note on is
 * a note off (MIDI 1.0 Detailed Specification). All else is nothing to us. Web MIDI hands over whole
 * messages with their status; a message without one is read under `running` all the same.
 * @param drumsAsPitched some mallet pads send their bars on channel 10; true reads these as notes
 * @example
 * readMidi([0x90, 60, 100], false).note // => { kind: 'on', pitch: 60, velocity: 100 }
 */
export const readMidi = (
  bytes: ArrayLike<number>,
  drumsAsPitched: boolean,
  running?: number,
): MidiReading => {
  const [first] = [bytes[0]];
  if (first === undefined) return { note: undefined, running };
  // Real-time messages (clock, active sensing) may come in between and change nothing.
  if (first >= 0xf8) return { note: undefined, running };
  // System common messages end running status.
  if (first >= 0xf0) return { note: undefined, running: undefined };
  const status = first >= 0x80 ? first : running;
  if (status === undefined) return { note: undefined, running };
  const at = first >= 0x80 ? 1 : 0;
  const [pitch, velocity] = [bytes[at], bytes[at + 1]];
  const kind = status >> 4;
  const ours = (kind === 0x8 || kind === 0x9) && (drumsAsPitched || (status & 0x0f) !== PERCUSSION);
  if (!ours || !isData(pitch) || !isData(velocity)) return { note: undefined, running: status };
  const note: MidiNote =
    kind === 0x9 && velocity > 0 ? { kind: 'on', pitch, velocity } : { kind: 'off', pitch };
  return { note, running: status };
};
