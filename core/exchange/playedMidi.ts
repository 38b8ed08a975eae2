import { add, fraction, subtract, toNumber } from '../foundation/fraction.ts';
import { INSTRUMENTS } from '../instruments/instruments.ts';
import type { KeptPlaying } from '../piece/keptPlaying.ts';
import { secondsAtOnset } from '../playback/seconds.ts';
import type { Score } from '../score/score.ts';
import { midiFile, type MidiTrack } from './midiFile.ts';
import { channelOf, programChange } from './midiMessages.ts';
import { midiOfScore, noteEvents, PPQ } from './standardMidi.ts';

/** How long a blow of a mallet sounds in a file, in seconds, where nothing tells its length (our choice). */
const BLOW = 0.25;

/**
 * The page and what was really played to it in one MIDI file: the written parts at the speed they were played at,
 * and a track for each playing with its own times, to the tick.
 * @param written the whole piece, without repeat bars
 * @returns the bytes of a standard MIDI file, type 1
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * const played = playingAlong(score, { bars: { first: 0, last: 0 }, speed: 1, loop: false, lasted: 4, ended: true, strikes: { p1: [{ at: 1, pitch: 60, velocity: 90 }] } });
 * playedMidi(score, keptPlaying(score, played, 'k1', '2026-01-01T00:00:00.000Z')).slice(0, 4) // => new Uint8Array([0x4d, 0x54, 0x68, 0x64])
 */
export const playedMidi = (written: Score, playing: KeptPlaying): Uint8Array => {
  const { speed } = playing;
  const score: Score = {
    ...written,
    tempo: written.tempo * speed,
    ...(written.tempi === undefined
      ? {}
      : { tempi: written.tempi.map(change => ({ ...change, tempo: change.tempo * speed })) }),
  };
  const { tracks, tickAt } = midiOfScore(score);
  const bars = score.parts[0]?.bars ?? [];
  const bar = bars[Math.min(playing.first, bars.length - 1)];
  const start = bar?.start ?? subtract(fraction(0), score.upbeat);
  const from =
    toNumber(start) <= -toNumber(score.upbeat) ? 0 : secondsAtOnset(score, add(start, score.upbeat));
  const played = playing.parts.map(({ part, instrument, take }, i): MidiTrack => {
    const named = score.parts.find(one => one.id === part)?.name ?? INSTRUMENTS[instrument].name;
    const channel = channelOf(score.parts.length + i, 0, true);
    const { program, soundsAbove } = INSTRUMENTS[instrument];
    return {
      name: `${named}, as it was played`,
      events: [
        { ticks: 0, bytes: programChange(channel, program) },
        ...take.strikes.flatMap(({ at, pitch, velocity }) => {
          const seconds = Math.max(0, from + at);
          const ticks = tickAt(seconds);
          const until = Math.max(ticks + 1, tickAt(seconds + BLOW));
          return noteEvents(channel, pitch + soundsAbove, velocity, ticks, until);
        }),
      ],
    };
  });
  return midiFile(PPQ, [...tracks, ...played]);
};
