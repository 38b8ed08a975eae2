import { add, divide, type Fraction, fraction, toNumber } from '../foundation/fraction.ts';
import { type Key, type Mode, signature } from '../foundation/key.ts';
import { Midi } from '../foundation/midiLibrary.ts';
import { tactus } from '../foundation/metre.ts';
import type { BarIndex, Bpm, Seconds } from '../foundation/units.ts';
import { INSTRUMENTS } from '../instruments/instruments.ts';
import { type MidiKey, withMidiHead } from './midiHeader.ts';
import { CLOCKS } from '../playback/midiClock.ts';
import { heardTempi } from '../playback/pace.ts';
import { secondsAtOnset, strokesByPart, swungOnset } from '../playback/perform.ts';
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
  const here = stretches.filter(s => s.seconds <= seconds + 1e-9).at(-1) ?? stretches[0];
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

/**
 * A score as a standard MIDI file (type 1): one track a part, sounding pitches, General MIDI
 * programs, key signature, swing, dynamics, balance, grace notes and repeats as they are heard. Places off the tick grid
 * are rounded to the nearest tick.
 */
export const standardMidi = (written: Score): Uint8Array => {
  const score = playedOut(written);
  const midi = new Midi();
  const stretches = stretchesOf(score);
  const bars = score.parts[0]?.bars ?? [];
  const ticksOfBar = (bar: BarIndex): readonly number[] => {
    const start = bars[bar]?.start;
    return start === undefined ? [] : [ticksOf(score, start)];
  };
  const metres = [
    { ticks: 0, metre: score.metre },
    ...(score.metres ?? []).flatMap(({ bar, metre }) => ticksOfBar(bar).map(ticks => ({ ticks, metre }))),
  ];
  const balanced = score.parts.some(part => part.balance !== undefined);
  midi.header.fromJSON({
    name: score.title,
    ppq: PPQ,
    meta: [],
    keySignatures: [],
    tempos: stretches.map(({ ticks, crotchets }) => ({ ticks, bpm: crotchets })),
    timeSignatures: metres.map(({ ticks, metre }) => ({ ticks, timeSignature: [metre.upper, metre.lower] })),
  });
  strokesByPart(score).forEach((strokes, i) => {
    const part = score.parts[i];
    if (part === undefined) return;
    const track = midi.addTrack();
    track.name = part.name;
    track.channel = i;
    track.instrument.number = INSTRUMENTS[part.instrument].program;
    if (balanced) track.addCC({ number: 7, ticks: 0, value: channelVolume(part.balance ?? 0) / 127 });
    let end = 0;
    for (const stroke of strokes) {
      const ticks = ticksAt(stretches, stroke.seconds);
      const until = Math.max(ticks + 1, ticksAt(stretches, stroke.seconds + stroke.duration));
      track.addNote({
        midi: stroke.pitch,
        ticks,
        durationTicks: until - ticks,
        velocity: stroke.velocity / 127,
      });
      end = Math.max(end, until);
    }
    track.endOfTrackTicks = end;
  });
  const told = (ticks: number, k: Key): MidiKey => ({
    ticks,
    signature: signature(k),
    minor: isMinor(k.mode),
  });
  return withMidiHead(midi.toArray(), {
    keys: [
      told(0, score.key),
      ...(score.keys ?? []).flatMap(({ bar, key }) => ticksOfBar(bar).map(ticks => told(ticks, key))),
    ],
    clocks: metres.map(({ metre }) => Math.round(toNumber(tactus(metre)) * 4 * CLOCKS)),
  });
};

/** A MIDI file knows two modes; the others are told by their third. */
const isMinor = (mode: Mode): boolean => mode.includes('minor') || mode === 'dorian' || mode === 'phrygian';

const crotchetsAMinute = (beat: Fraction, tempo: Bpm): number => {
  const ratio = divide(beat, fraction(1, 4));
  return (tempo * ratio.n) / ratio.d;
};
