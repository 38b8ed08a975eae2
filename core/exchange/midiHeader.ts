/** A key from a place on. */
export interface MidiKey {
  readonly ticks: number;
  /** Sharps (above zero) or flats (below) of the key signature, -7 to 7. */
  readonly signature: number;
  readonly minor: boolean;
}

/** What the first track of a MIDI file says of the music beyond its metre. */
export interface MidiHead {
  /** In order; the first at the beginning. */
  readonly keys: readonly MidiKey[];
  /** MIDI clocks (24 a crotchet) from one click of a metronome to the next, for each time signature in order. */
  readonly clocks: readonly number[];
}

const META = 0xff;
const TIME_SIGNATURE = 0x58;
const KEY_SIGNATURE = 0x59;
const END_OF_TRACK = 0x2f;
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

/** A number of variable length: seven bits a byte, the last one without its highest bit (Standard MIDI File 1.0). */
const variable = (value: number): readonly number[] => {
  const bytes = [value & 0x7f];
  for (let rest = value >> 7; rest > 0; rest >>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
};

/** An event of the first track, apart from its delta time. */
interface MetaEvent {
  readonly ticks: number;
  readonly bytes: readonly number[];
}

/** The events of a track of meta events; undefined where there are others. */
const metaEvents = (bytes: Uint8Array, end: number): readonly MetaEvent[] | undefined => {
  const events: MetaEvent[] = [];
  let ticks = 0;
  for (let at = FIRST_EVENT; at < end;) {
    const delta = numberAt(bytes, at);
    const from = at + delta.size;
    if (bytes[from] !== META) return undefined;
    const data = numberAt(bytes, from + 2);
    at = from + 2 + data.size + data.value;
    ticks += delta.value;
    events.push({ ticks, bytes: [...bytes.subarray(from, at)] });
  }
  return events;
};

const keyEvent = ({ ticks, signature, minor }: MidiKey): MetaEvent => ({
  ticks,
  bytes: [META, KEY_SIGNATURE, 2, signature & 0xff, minor ? 1 : 0],
});

/** A time signature event that says how many clocks there are to a click. */
const withClocks = (bytes: readonly number[], clocks: number | undefined): readonly number[] =>
  clocks === undefined ? bytes : [...bytes.slice(0, -2), clocks, ...bytes.slice(-1)];

/**
 * A MIDI file with its key signatures, and the metronome's click told in its time signature: 6/8 has one
 * every 36 clocks, a dotted crotchet (Standard MIDI File 1.0, FF 58 and FF 59; from memory). The library that
 * writes the file knows only 24 clocks and misplaces keys by fourteen signs.
 * @param bytes a file of type 1 whose first track holds meta events only
 */
export const withMidiHead = (bytes: Uint8Array, head: MidiHead): Uint8Array => {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = FIRST_EVENT + view.getUint32(FIRST_EVENT - 4);
  const events = metaEvents(bytes, end);
  if (events === undefined) return bytes;
  const [first, ...later] = head.keys.map(keyEvent);
  const all: MetaEvent[] = [];
  const clocks = [...head.clocks];
  for (const event of events) {
    const isMetre = event.bytes[1] === TIME_SIGNATURE;
    // A key stands before what begins at the same tick, and before the end of the track.
    const isEnd = event.bytes[1] === END_OF_TRACK;
    const due = isEnd ? later.splice(0) : later.splice(0, later.filter(k => k.ticks <= event.ticks).length);
    all.push(...due);
    all.push(isMetre ? { ...event, bytes: withClocks(event.bytes, clocks.shift()) } : event);
    if (isMetre && event.ticks === 0 && first !== undefined) all.push(first);
  }
  let before = 0;
  const track = all.flatMap(({ ticks, bytes: own }) => {
    const delta = Math.max(0, ticks - before);
    before = Math.max(before, ticks);
    return [...variable(delta), ...own];
  });
  const whole = new Uint8Array(FIRST_EVENT + track.length + bytes.length - end);
  whole.set(bytes.subarray(0, FIRST_EVENT));
  whole.set(track, FIRST_EVENT);
  whole.set(bytes.subarray(end), FIRST_EVENT + track.length);
  new DataView(whole.buffer).setUint32(FIRST_EVENT - 4, track.length);
  return whole;
};
