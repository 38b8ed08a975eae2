import { add, divide, type Fraction, fraction, toNumber } from '../foundation/fraction.ts';
import { type Key, type Mode, signature } from '../foundation/key.ts';
import { type Metre, tactus } from '../foundation/metre.ts';
import { lastUpTo } from '../foundation/lastUpTo.ts';
import type { BarIndex, Bpm, MidiPitch, Seconds, Velocity } from '../foundation/units.ts';
import { INSTRUMENTS } from '../instruments/instruments.ts';
import {
  keySignatureEvent,
  midiFile,
  type MidiFileEvent,
  type MidiTrack,
  tempoEvent,
  timeSignatureEvent,
} from './midiFile.ts';
import {
  channelOf,
  type MidiMessage,
  noteOff,
  noteOn,
  pedalChange,
  programChange,
  volumeChange,
} from './midiMessages.ts';
import { CLOCKS } from '../playback/midiClock.ts';
import { heardTempi } from '../playback/pace.ts';
import { strokesByPart } from '../playback/perform.ts';
import { secondsAtOnset, swungOnset } from '../playback/seconds.ts';
import { pedalsIn } from '../score/pedals.ts';
import { playedOut } from '../score/repeats.ts';
import type { Score } from '../score/score.ts';

/** Ticks a crotchet; divides by 3 and by 16. */
export const PPQ = 960;

/** One tempo, from where it begins. */
interface Stretch {
  readonly ticks: number;
  readonly seconds: Seconds;
  readonly crotchets: number;
}

/** The tick at a place, from the first full barline. */
const ticksOf = (score: Score, at: Fraction): number =>
  Math.round((toNumber(swungOnset(at, score.swing)) + toNumber(score.upbeat)) * 4 * PPQ);

const stretchesOf = (score: Score): readonly Stretch[] => [
  { ticks: 0, seconds: 0, crotchets: crotchetsAMinute(tactus(score.metre), score.tempo) },
  ...heardTempi(score).map(({ at, tempo, beat }) => ({
    ticks: ticksOf(score, at),
    seconds: secondsAtOnset(score, add(at, score.upbeat)),
    crotchets: crotchetsAMinute(beat ?? tactus(score.metre), tempo),
  })),
];

/** The tick at a time, through every tempo. */
const ticksAt = (stretches: readonly Stretch[], seconds: Seconds): number => {
  const here = stretches[lastUpTo(stretches, s => s.seconds, seconds + 1e-9)] ?? stretches[0];
  if (here === undefined) return 0;
  return Math.round(here.ticks + ((seconds - here.seconds) * here.crotchets * PPQ) / 60);
};

/** Channel volume (controller 7) at 0 dB, and with a part's balance beside others. */
const EVEN = 90;

/**
 * A balance in dB as channel volume: 40 log10(v/127) dB (MIDI Association, GM recommended practice;
 * from memory), counted from 90 so that +6 dB is 127.
 * @example
 * channelVolume(0) // => 90
 * channelVolume(6) // => 127
 */
export const channelVolume = (balance: number): number =>
  Math.round(Math.min(127, Math.max(0, EVEN * 10 ** (balance / 40))));

/** What a MIDI file of a score holds, and where its seconds lie. */
export interface MidiOfScore {
  /** The first with tempi, metres and keys, then one a part. */
  readonly tracks: readonly MidiTrack[];
  /** The tick at a time in seconds from the beginning. */
  readonly tickAt: (seconds: Seconds) => number;
}

/** Metres, keys and tempi of a score whose repeats are played out. */
const headEvents = (score: Score, stretches: readonly Stretch[]): readonly MidiFileEvent[] => {
  const bars = score.parts[0]?.bars ?? [];
  const fromBar = (bar: BarIndex, bytes: MidiMessage): readonly MidiFileEvent[] => {
    const start = bars[bar]?.start;
    return start === undefined ? [] : [{ ticks: ticksOf(score, start), bytes }];
  };
  // A click every 36 clocks in 6/8: a dotted crotchet (Standard MIDI Files 1.0, FF 58).
  const told = (m: Metre): MidiMessage =>
    timeSignatureEvent(m.upper, m.lower, Math.round(toNumber(tactus(m)) * 4 * CLOCKS));
  const keyed = (k: Key): MidiMessage => keySignatureEvent(signature(k), isMinor(k.mode));
  return [
    { ticks: 0, bytes: told(score.metre) },
    { ticks: 0, bytes: keyed(score.key) },
    ...stretches.map(({ ticks, crotchets }) => ({ ticks, bytes: tempoEvent(crotchets) })),
    ...(score.metres ?? []).flatMap(({ bar, metre }) => fromBar(bar, told(metre))),
    ...(score.keys ?? []).flatMap(({ bar, key }) => fromBar(bar, keyed(key))),
  ];
};

/** The tracks of a score, so that others can be laid beside them. */
export const midiOfScore = (written: Score): MidiOfScore => {
  const score = playedOut(written);
  const stretches = stretchesOf(score);
  const tickAt = (seconds: Seconds): number => ticksAt(stretches, seconds);
  const balanced = score.parts.some(part => part.balance !== undefined);
  const strokes = strokesByPart(score);
  const parts = score.parts.map((part, i): MidiTrack => {
    const channel = channelOf(i, 0, true);
    const notes = (strokes[i] ?? []).map(stroke => {
      const ticks = tickAt(stroke.seconds);
      const until = Math.max(ticks + 1, tickAt(stroke.seconds + stroke.duration));
      const [on, off] = noteEvents(channel, stroke.pitch, stroke.velocity, ticks, until);
      return { on, off };
    });
    return {
      name: part.name,
      events: [
        { ticks: 0, bytes: programChange(channel, INSTRUMENTS[part.instrument].program) },
        ...(balanced ? [{ ticks: 0, bytes: volumeChange(channel, channelVolume(part.balance ?? 0)) }] : []),
        // A note ends before a pedal that goes down again would catch it, and begins after.
        ...notes.map(({ off }) => off),
        ...pedalsIn(part).flatMap(({ from, to }) => [
          { ticks: ticksOf(score, from), bytes: pedalChange(channel, true) },
          { ticks: ticksOf(score, to), bytes: pedalChange(channel, false) },
        ]),
        ...notes.map(({ on }) => on),
      ],
    };
  });
  return { tracks: [{ name: score.title, events: headEvents(score, stretches) }, ...parts], tickAt };
};

/** A note begun and ended. */
export const noteEvents = (
  channel: number,
  pitch: MidiPitch,
  velocity: Velocity,
  ticks: number,
  until: number,
): readonly [on: MidiFileEvent, off: MidiFileEvent] => [
  { ticks, bytes: noteOn(channel, pitch, velocity) },
  { ticks: until, bytes: noteOff(channel, pitch) },
];

/**
 * A score as a standard MIDI file (type 1): one track a part, sounding pitches, General MIDI
 * programs, key signature, pedal, swing, dynamics, balance, grace notes and repeats as they are heard. Places off the tick grid
 * are rounded to the nearest tick. The work grows with the notes, and no faster than in order of them.
 */
export const standardMidi = (written: Score): Uint8Array => midiFile(PPQ, midiOfScore(written).tracks);

/** A MIDI file knows two modes; the others are told by their third. */
const isMinor = (mode: Mode): boolean => mode.includes('minor') || mode === 'dorian' || mode === 'phrygian';

const crotchetsAMinute = (beat: Fraction, tempo: Bpm): number => {
  const ratio = divide(beat, fraction(1, 4));
  return (tempo * ratio.n) / ratio.d;
};
