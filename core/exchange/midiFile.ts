import type { MidiMessage } from './midiMessages.ts';

/** A message or a meta event of a track, at its place. */
export interface MidiFileEvent {
  /** From the beginning of the file, 0 or more. */
  readonly ticks: number;
  readonly bytes: MidiMessage;
}

/** A track: its name, and its events in any order. Those at one tick stay in the order given. */
export interface MidiTrack {
  readonly name: string;
  readonly events: readonly MidiFileEvent[];
}

const META = 0xff;
const TRACK_NAME = 0x03;
const END_OF_TRACK = 0x2f;
const TEMPO = 0x51;
const TIME_SIGNATURE = 0x58;
const KEY_SIGNATURE = 0x59;
/** The most microseconds a crotchet that three bytes hold. */
const SLOWEST = 0xffffff;

/** A number of variable length: seven bits a byte, the last one without its highest bit. */
const variable = (value: number): readonly number[] => {
  const bytes = [value & 0x7f];
  for (let rest = Math.floor(value / 128); rest > 0; rest = Math.floor(rest / 128))
    bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
};

const word = (value: number, size: number): readonly number[] =>
  Array.from({ length: size }, (_, i) => Math.floor(value / 256 ** (size - 1 - i)) & 0xff);

const ascii = (text: string): readonly number[] => Array.from(text, c => c.charCodeAt(0));

/**
 * Text as UTF-8: the standard promises no more than ASCII, and this is what is read beyond it today. Half a surrogate
 * pair is no character, and stands as the sign for one that is missing (The Unicode Standard, 3.9, U+FFFD).
 */
const utf8 = (text: string): readonly number[] =>
  Array.from(text).flatMap(c => {
    const point = c.codePointAt(0) ?? 0;
    const code = point >= 0xd800 && point <= 0xdfff ? 0xfffd : point;
    if (code < 0x80) return [code];
    const more = code < 0x800 ? 1 : code < 0x10000 ? 2 : 3;
    const first = (0xf00 >> (more + 1)) & 0xff;
    return [
      first | (code >> (6 * more)),
      ...Array.from({ length: more }, (_, i) => 0x80 | ((code >> (6 * (more - 1 - i))) & 0x3f)),
    ];
  });

const meta = (kind: number, data: readonly number[]): MidiMessage => [
  META,
  kind,
  ...variable(data.length),
  ...data,
];

/**
 * A tempo (FF 51 03), as microseconds a crotchet.
 * @param crotchets a minute, above 0
 * @example
 * tempoEvent(120) // => [255, 81, 3, 7, 161, 32]
 */
export const tempoEvent = (crotchets: number): MidiMessage =>
  meta(TEMPO, word(Math.min(SLOWEST, Math.max(1, Math.floor(60e6 / crotchets))), 3));

/**
 * A time signature (FF 58 04).
 * @param lower a power of two
 * @param clocks MIDI clocks (24 a crotchet) from one click of a metronome to the next; a byte says up to 255
 * @example
 * timeSignatureEvent(6, 8, 36) // => [255, 88, 4, 6, 3, 36, 8]
 */
export const timeSignatureEvent = (upper: number, lower: number, clocks: number): MidiMessage =>
  meta(TIME_SIGNATURE, [upper, Math.round(Math.log2(lower)), Math.min(255, clocks), 8]);

/**
 * A key signature (FF 59 02).
 * @param signature sharps (above zero) or flats (below), -7 to 7
 * @example
 * keySignatureEvent(-3, true) // => [255, 89, 2, 253, 1]
 */
export const keySignatureEvent = (signature: number, isMinor: boolean): MidiMessage =>
  meta(KEY_SIGNATURE, [signature & 0xff, isMinor ? 1 : 0]);

const chunk = (name: string, data: Uint8Array): Uint8Array => {
  const whole = new Uint8Array(8 + data.length);
  whole.set([...ascii(name), ...word(data.length, 4)]);
  whole.set(data, 8);
  return whole;
};

const trackBytes = ({ name, events }: MidiTrack): Uint8Array => {
  const bytes: number[] = [0, ...meta(TRACK_NAME, utf8(name))];
  let before = 0;
  for (const event of [...events].sort((a, b) => a.ticks - b.ticks)) {
    bytes.push(...variable(event.ticks - before), ...event.bytes);
    before = event.ticks;
  }
  bytes.push(0, ...meta(END_OF_TRACK, []));
  return Uint8Array.from(bytes);
};

/**
 * A standard MIDI file of type 1 (Standard MIDI Files 1.0, MIDI Association; from memory).
 * @param division ticks a crotchet, 1 to 32767
 * @param tracks the first with tempi, metres and keys
 * @returns its bytes; the work grows with the events
 * @example
 * midiFile(96, [{ name: '', events: [] }]).length // => 30
 */
export const midiFile = (division: number, tracks: readonly MidiTrack[]): Uint8Array => {
  const head = Uint8Array.from([...word(1, 2), ...word(tracks.length, 2), ...word(division, 2)]);
  const chunks = [chunk('MThd', head), ...tracks.map(track => chunk('MTrk', trackBytes(track)))];
  const whole = new Uint8Array(chunks.reduce((so, c) => so + c.length, 0));
  let at = 0;
  for (const c of chunks) {
    whole.set(c, at);
    at += c.length;
  }
  return whole;
};
