/**
 * A first look at the bytes of a standard MIDI file: is it whole, how many notes are there, are any
 * left sounding? What comes out is safe to hand to a parser: only whole track chunks, no alien
 * chunks, only events that make a take, and a note-off for every note-on.
 * Source: the standard MIDI file format (MThd, MTrk, variable-length numbers, running status).
 */
export type Scan =
  | { readonly kind: 'whole'; readonly bytes: Uint8Array; readonly notes: number; readonly division: number }
  | { readonly kind: 'not-midi'; readonly detail: string }
  | { readonly kind: 'damaged'; readonly detail: string }
  | { readonly kind: 'too-many'; readonly detail: string };

const HEADER = 0x4d546864; // MThd
const TRACK = 0x4d54726b; // MTrk
/** More notes than anybody strikes in a lesson; above it a file is no take (and parsing it would drag). */
export const MOST_NOTES = 20_000;

const word = (b: Uint8Array, at: number): number =>
  (b[at] ?? 0) * 0x1000000 + (((b[at + 1] ?? 0) << 16) | ((b[at + 2] ?? 0) << 8) | (b[at + 3] ?? 0));
const half = (b: Uint8Array, at: number): number => ((b[at] ?? 0) << 8) | (b[at + 1] ?? 0);

/** Bytes after a channel status: one for programme change and channel pressure, else two. */
const dataBytes = (status: number): number => ((status & 0xe0) === 0xc0 ? 1 : 2);

interface Walk {
  readonly notes: number;
  /** Channel and pitch of notes still sounding at the end, channel in the high byte. */
  readonly sounding: readonly number[];
  /** What a take is made of, byte by byte, each event after its delta time and with its own status. */
  readonly kept: Uint8Array;
}

/** Metas that a take needs: track name, tempo, time signature, key signature. */
const NEEDED_METAS: readonly number[] = [0x03, 0x51, 0x58, 0x59];

/** A number as a variable-length one of at most four bytes. */
const variableLength = (value: number): number[] => {
  const bytes = [value & 0x7f];
  for (let rest = value >>> 7; rest > 0; rest >>>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
};

/** Walks the events of one track; a sentence when they do not fit the chunk. */
const walkTrack = (b: Uint8Array, from: number, to: number): Walk | string => {
  let at = from;
  let running = 0;
  let notes = 0;
  /** Running status is written out, so a track may grow: by a byte for every event of at least two. */
  const kept = new Uint8Array((to - from) * 2 + 16);
  let length = 0;
  let since = 0;
  const keep = (head: readonly number[], body: Uint8Array): void => {
    const delta = variableLength(Math.min(since, 0x0fffffff));
    since = 0;
    kept.set(delta, length);
    kept.set(head, length + delta.length);
    kept.set(body, length + delta.length + head.length);
    length += delta.length + head.length + body.length;
  };
  const open = new Map<number, number>();
  const number = (): number => {
    let value = 0;
    for (let i = 0; i < 4; i++) {
      if (at >= to) return -1;
      const byte = b[at++] ?? 0;
      value = (value << 7) | (byte & 0x7f);
      if (byte < 0x80) return value;
    }
    return -1;
  };
  while (at < to) {
    const delta = number();
    if (delta < 0) return 'a delta time runs past the end of its track';
    since += delta;
    if (at >= to) return 'a track ends inside an event';
    const first = b[at] ?? 0;
    if (first === 0xff || first === 0xf0 || first === 0xf7) {
      const meta = first === 0xff;
      const type = meta ? (b[at + 1] ?? 0) : 0;
      at += meta ? 2 : 1;
      if (at > to) return 'a track ends inside an event';
      const size = number();
      if (size < 0 || at + size > to) return 'an event is longer than its track';
      if (meta && NEEDED_METAS.includes(type))
        keep([0xff, type, ...variableLength(size)], b.subarray(at, at + size));
      at += size;
      if (meta && type === 0x2f) break;
    } else if (first > 0xf0) {
      return 'a system message stands inside a track';
    } else {
      const status = first >= 0x80 ? first : running;
      if (status === 0) return 'a data byte stands where a status byte belongs';
      running = status;
      if (first >= 0x80) at++;
      const size = dataBytes(status);
      if (at + size > to) return 'a track ends inside an event';
      const a = b[at] ?? 0;
      const velocity = b[at + 1] ?? 0;
      if (a > 0x7f || (size === 2 && velocity > 0x7f)) return 'a data byte is above 127';
      const key = ((status & 0x0f) << 8) | a;
      if ((status & 0xf0) === 0x90 && velocity > 0) {
        notes++;
        open.set(key, (open.get(key) ?? 0) + 1);
      } else if ((status & 0xe0) === 0x80) {
        const count = open.get(key) ?? 0;
        if (count > 0) open.set(key, count - 1);
      }
      // Controllers, pressure and bend say nothing of a struck bar, and eight megabytes of them would
      // keep a parser busy for seconds.
      if ((status & 0xe0) === 0x80 || (status & 0xf0) === 0xc0) keep([status], b.subarray(at, at + size));
      at += size;
    }
  }
  return {
    notes,
    sounding: [...open].flatMap(([key, count]) => Array<number>(count).fill(key)),
    kept: kept.subarray(0, length),
  };
};

/** The events of a track that a take needs, then offs for what still sounds, then End of Track. */
const rebuilt = (walk: Walk): Uint8Array => {
  const tail = walk.sounding.flatMap(key => [1, 0x80 | (key >> 8), key & 0x7f, 64]);
  const { kept } = walk;
  const size = kept.length + tail.length + 4;
  const out = new Uint8Array(8 + size);
  out.set([0x4d, 0x54, 0x72, 0x6b, size >>> 24, (size >>> 16) & 255, (size >>> 8) & 255, size & 255]);
  out.set(kept, 8);
  out.set([...tail, 0, 0xff, 0x2f, 0], 8 + kept.length);
  return out;
};

/**
 * Looks through the bytes. Never throws; its time is proportional to their number.
 * @example
 * scanMidi(new Uint8Array([1, 2, 3])).kind // => 'not-midi'
 */
export const scanMidi = (b: Uint8Array): Scan => {
  if (b.length < 14 || word(b, 0) !== HEADER || word(b, 4) < 6) {
    return { kind: 'not-midi', detail: 'no MThd chunk of six bytes at the start' };
  }
  const claimed = half(b, 10);
  const division = half(b, 12);
  if (division === 0) return { kind: 'damaged', detail: 'no ticks in a crotchet' };
  let at = 8 + word(b, 4);
  let notes = 0;
  const tracks: Uint8Array[] = [];
  while (at + 8 <= b.length && tracks.length < claimed) {
    const size = word(b, at + 4);
    const from = at + 8;
    if (from + size > b.length) return { kind: 'damaged', detail: 'a chunk is longer than the file' };
    if (word(b, at) === TRACK) {
      const walk = walkTrack(b, from, from + size);
      if (typeof walk === 'string') return { kind: 'damaged', detail: walk };
      notes += walk.notes;
      if (notes > MOST_NOTES) return { kind: 'too-many', detail: `more than ${String(MOST_NOTES)} notes` };
      tracks.push(rebuilt(walk));
    }
    at = from + size;
  }
  if (tracks.length < claimed)
    return { kind: 'damaged', detail: 'tracks are missing at the end of the file' };
  const total = tracks.reduce((n, t) => n + t.length, 14);
  const bytes = new Uint8Array(total);
  bytes.set(b.subarray(0, 4));
  bytes.set(
    [0, 0, 0, 6, b[8] ?? 0, b[9] ?? 0, tracks.length >> 8, tracks.length & 255, b[12] ?? 0, b[13] ?? 0],
    4,
  );
  tracks.reduce((to, t) => (bytes.set(t, to), to + t.length), 14);
  return { kind: 'whole', bytes, notes, division };
};
