import { add, divide, type Fraction, fraction, multiply, subtract } from '../foundation/fraction.ts';
import { Midi } from '../foundation/midiLibrary.ts';
import { tactus } from '../foundation/metre.ts';
import { INSTRUMENTS } from '../parts/instruments.ts';
import { notesOf, swung } from '../playback/perform.ts';
import type { Score } from '../score/score.ts';

/** Ticks a crotchet; divides by 3 and by 16. */
export const PPQ = 960;

const ticksAt = (score: Score, at: Fraction): number => {
  const played = add(swung(subtract(at, score.upbeat), score.swing), score.upbeat);
  const exact = multiply(played, fraction(4 * PPQ));
  return Math.round(exact.n / exact.d);
};

/**
 * A score as a standard MIDI file (type 1): one track a part, sounding pitches, General MIDI
 * programs, swing as it is heard. Places off the tick grid are rounded to the nearest tick.
 */
export const standardMidi = (score: Score): Uint8Array => {
  const midi = new Midi();
  midi.header.fromJSON({
    name: score.title,
    ppq: PPQ,
    meta: [],
    keySignatures: [],
    tempos: [{ ticks: 0, bpm: crotchetsAMinute(score) }],
    timeSignatures: [{ ticks: 0, timeSignature: [score.metre.beats, score.metre.unit] }],
  });
  score.parts.forEach((part, i) => {
    const track = midi.addTrack();
    track.name = part.name;
    track.channel = i;
    track.instrument.number = INSTRUMENTS[part.instrument].program;
    let end = 0;
    for (const note of notesOf(part, score.upbeat)) {
      const ticks = ticksAt(score, note.at);
      const until = ticksAt(score, add(note.at, note.length));
      track.addNote({ midi: note.sounding, ticks, durationTicks: until - ticks, velocity: 84 / 127 });
      end = Math.max(end, until);
    }
    track.endOfTrackTicks = end;
  });
  return midi.toArray();
};

const crotchetsAMinute = (score: Score): number => {
  const ratio = divide(tactus(score.metre), fraction(1, 4));
  return (score.tempo * ratio.n) / ratio.d;
};
