import { type MidiEvent, parseMidi } from 'midi-file';
import { expect } from 'vitest';
import { standardMidi } from '../../../core/exchange/standardMidi.ts';
import type { Score } from '../../../core/score/score.ts';

/** A note as it sounds: when it begins and ends, in seconds. */
export interface Note {
  readonly channel: number;
  readonly pitch: number;
  readonly velocity: number;
  readonly on: number;
  readonly off: number;
}
export const byTime = (a: Note, b: Note): number => a.on - b.on || a.channel - b.channel || a.pitch - b.pitch;

/** Notes of messages in the order in which they leave: by their times, then as they were handed over. */
export const notesIn = (
  messages: readonly { readonly at: number; readonly data: readonly number[] }[],
): readonly Note[] => {
  const open = new Map<string, Note>();
  const done: Note[] = [];
  for (const { at, data } of [...messages].sort((a, b) => a.at - b.at)) {
    const [status = 0, pitch = 0, velocity = 0] = data;
    const key = `${String(status & 15)} ${String(pitch)}`;
    const kind = status & 0xf0;
    if (kind === 0x90) {
      const before = open.get(key);
      if (before !== undefined) done.push({ ...before, off: at });
      open.set(key, { channel: status & 15, pitch, velocity, on: at, off: NaN });
    } else if (kind === 0x80) {
      const before = open.get(key);
      if (before !== undefined) done.push({ ...before, off: at });
      open.delete(key);
    }
  }
  expect([...open.keys()]).toEqual([]);
  return done.sort(byTime);
};

/** The notes of a MIDI file by midi-file, in seconds by its own tempi. */
export const notesOfFile = (score: Score): readonly Note[] => {
  const { header, tracks } = parseMidi(standardMidi(score));
  const placed = tracks.map(track => {
    let tick = 0;
    return track.map((event: MidiEvent) => ({ tick: (tick += event.deltaTime), event }));
  });
  const tempi = placed
    .flat()
    .flatMap(({ tick, event }) =>
      event.type === 'setTempo'
        ? [{ tick, each: event.microsecondsPerBeat / 1e6 / (header.ticksPerBeat ?? 1) }]
        : [],
    );
  const seconds = (tick: number): number =>
    tempi.reduce((sum, { tick: from, each }, i) => {
      const to = Math.min(tick, tempi[i + 1]?.tick ?? Infinity);
      return sum + Math.max(0, to - from) * each;
    }, 0);
  return notesIn(
    placed
      .flat()
      .flatMap(({ tick, event }) =>
        event.type === 'noteOn' && event.velocity > 0
          ? [{ at: seconds(tick), data: [0x90 | event.channel, event.noteNumber, event.velocity] }]
          : event.type === 'noteOff' || event.type === 'noteOn'
            ? [{ at: seconds(tick) - 1e-7, data: [0x80 | event.channel, event.noteNumber, 0] }]
            : [],
      ),
  );
};
