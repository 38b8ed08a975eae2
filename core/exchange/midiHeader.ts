/** What the first track of a MIDI file says of the music beyond its metre. */
export interface MidiHead {
  /** Sharps (above zero) or flats (below) of the key signature, -7 to 7. */
  readonly signature: number;
  readonly minor: boolean;
  /** MIDI clocks (24 a crotchet) from one click of a metronome to the next. */
  readonly clocks: number;
}

const META = 0xff;
const TIME_SIGNATURE = 0x58;
const KEY_SIGNATURE = 0x59;
/** Where the first track's events begin: after the file's header and the track's own (Standard MIDI File 1.0). */
const FIRST_EVENT = 22;

/** A number of variable length at a place, and how many bytes it takes. */
const numberAt = (bytes: Uint8Array, at: number): { readonly value: number; readonly size: number } => {
  let value = 0;
  let size = 0;
  let byte = 0x80;
  while (byte >= 0x80 && size < 4) {
    byte = bytes[at + size] ?? 0;
    value = value * 128 + (byte & 0x7f);
    size += 1;
  }
  return { value, size };
};

/**
 * A MIDI file with its key signature, and the metronome's click told in its time signature: 6/8 has one
 * every 36 clocks, a dotted crotchet (Standard MIDI File 1.0, FF 58 and FF 59; from memory). The library that
 * writes the file knows only 24 clocks and misplaces keys by fourteen signs.
 * @param bytes a file of type 1 whose first track holds meta events only
 */
export const withMidiHead = (bytes: Uint8Array, head: MidiHead): Uint8Array => {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const length = view.getUint32(FIRST_EVENT - 4);
  const end = FIRST_EVENT + length;
  let at = FIRST_EVENT;
  while (at < end) {
    const type = at + numberAt(bytes, at).size + 1;
    if (bytes[type - 1] !== META) return bytes;
    const data = numberAt(bytes, type + 1);
    const next = type + 1 + data.size + data.value;
    if (bytes[type] === TIME_SIGNATURE) {
      const key = [0, META, KEY_SIGNATURE, 2, head.signature & 0xff, head.minor ? 1 : 0];
      const whole = new Uint8Array(bytes.length + key.length);
      whole.set(bytes.subarray(0, next));
      whole[next - 2] = head.clocks;
      whole.set(key, next);
      whole.set(bytes.subarray(next), next + key.length);
      new DataView(whole.buffer).setUint32(FIRST_EVENT - 4, length + key.length);
      return whole;
    }
    at = next;
  }
  return bytes;
};
