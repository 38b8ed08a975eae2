import { writeMidi } from 'midi-file';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scanMidi } from '../../core/take/scanMidi.ts';
import { LARGEST_FILE, readStandardMidiFile } from '../../core/take/standardMidiFile.ts';

type Event = Parameters<typeof writeMidi>[0]['tracks'][number][number];

/** A file written by an independent library (midi-file) from plain events. */
const file = (events: readonly object[], ticksPerBeat = 480): Uint8Array =>
  Uint8Array.from(
    writeMidi({
      header: { format: 0, numTracks: 1, ticksPerBeat },
      tracks: [[...events, { deltaTime: 0, meta: true, type: 'endOfTrack' }] as unknown as Event[]],
    }),
  );
const on = (deltaTime: number, noteNumber: number, velocity = 80, channel = 0): object => ({
  deltaTime,
  type: 'noteOn',
  channel,
  noteNumber,
  velocity,
});
const off = (deltaTime: number, noteNumber: number, channel = 0): object => ({
  deltaTime,
  type: 'noteOff',
  channel,
  noteNumber,
  velocity: 0,
});
const tempo = (deltaTime: number, microsecondsPerBeat: number): object => ({
  deltaTime,
  meta: true,
  type: 'setTempo',
  microsecondsPerBeat,
});
const signature = (numerator: number, denominator: number): object => ({
  deltaTime: 0,
  meta: true,
  type: 'timeSignature',
  numerator,
  denominator,
  metronome: 24,
  thirtyseconds: 8,
});
const read = (bytes: Uint8Array, options = {}) => {
  const result = readStandardMidiFile(bytes, 'take.mid', options);
  if (!result.ok) throw new Error(result.problem.kind);
  return result.value;
};
const kind = (bytes: Uint8Array): string => {
  const result = readStandardMidiFile(bytes, 'take.mid');
  return result.ok ? 'ok' : result.problem.kind;
};

describe('reading a standard MIDI file', () => {
  it('takes 500000 µs a crotchet where no tempo is written (standard MIDI file format)', () => {
    const take = read(file([on(480, 60), off(240, 60)]));
    expect(take.strikes).toEqual([{ at: 0.5, pitch: 60, velocity: 80, until: 0.75 }]);
  });

  it('follows tempo changes', () => {
    const take = read(
      file([tempo(0, 600000), on(480, 60), off(0, 60), tempo(0, 300000), on(480, 62), off(10, 62)]),
    );
    expect(take.strikes.map(s => s.at)).toEqual([0.6, expect.closeTo(0.9, 9)]);
    expect(take.click?.beats.slice(0, 3)).toEqual([0, 0.6, expect.closeTo(0.9, 9)]);
  });

  it('counts strikes: a note-on without velocity is none', () => {
    const scan = scanMidi(file([on(0, 60), on(240, 60, 0), on(0, 64), off(240, 64)]));
    expect(scan).toMatchObject({ kind: 'whole', notes: 2 });
  });

  it('takes no click where none is wanted, though the file has a tempo map', () => {
    const bytes = file([signature(3, 4), tempo(0, 400000), on(0, 60), off(240, 60)]);
    expect(read(bytes, { click: 'none' }).click).toBeUndefined();
    expect(read(bytes).click?.metre).toEqual({ upper: 3, lower: 4 });
  });

  it('hands on no controllers, however many there are, and keeps the time they took', () => {
    const bend = { deltaTime: 1, type: 'pitchBend', channel: 0, value: 5 };
    const pedal = { deltaTime: 1, type: 'controller', channel: 0, controllerType: 64, value: 127 };
    const idle = Array.from({ length: 20_000 }, (_, i) => (i % 2 === 0 ? bend : pedal));
    const bytes = file([on(240, 60), ...idle, off(0, 60), on(480, 62), ...idle, off(0, 62)]);
    const scan = scanMidi(bytes);
    expect(scan.kind === 'whole' && scan.bytes.length).toBeLessThan(80);
    const take = read(bytes);
    const plain = read(file([on(240, 60), off(20_000, 60), on(480, 62), off(20_000, 62)]));
    expect(take.strikes).toEqual(plain.strikes);
    expect(take.click).toEqual(plain.click);
  });

  it('law: what else lies between the notes changes no strike', () => {
    const between = fc.constantFrom(
      { type: 'controller', channel: 0, controllerType: 1, value: 3 },
      { type: 'channelAftertouch', channel: 0, amount: 9 },
      { type: 'noteAftertouch', channel: 0, noteNumber: 60, amount: 9 },
      { type: 'pitchBend', channel: 0, value: -40 },
      { type: 'programChange', channel: 0, programNumber: 13 },
      { meta: true, type: 'text', text: 'Tap' },
      { meta: true, type: 'marker', text: 'A' },
      { type: 'sysEx', data: [1, 2, 3, 0xf7] },
    );
    const gaps = fc.array(fc.tuple(fc.nat(40_000), between), { maxLength: 6 });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(gaps, fc.integer({ min: 40, max: 90 })), { minLength: 1, maxLength: 12 }),
        all => {
          const rich: object[] = [];
          const bare: object[] = [];
          for (const [others, pitch] of all) {
            for (const [deltaTime, other] of others) rich.push({ deltaTime, ...other });
            rich.push(on(10, pitch), off(90, pitch));
            bare.push(on(10 + others.reduce((sum, [gap]) => sum + gap, 0), pitch), off(90, pitch));
          }
          expect(read(file(rich)).strikes).toEqual(read(file(bare)).strikes);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('gives the click in the metre of the file: dotted crotchets in 6/8', () => {
    const take = read(file([signature(6, 8), on(0, 60), off(1440, 60)]));
    expect(take.click?.metre).toEqual({ upper: 6, lower: 8 });
    expect(take.click?.beats.slice(0, 2)).toEqual([0, 0.75]);
  });

  it('ends a note on a note-on of velocity 0, and keeps one that never ends', () => {
    const take = read(file([on(0, 60), on(240, 60, 0), on(0, 64), on(240, 67), off(240, 67)]));
    expect(take.strikes.map(s => s.pitch)).toEqual([60, 64, 67]);
    expect(take.strikes[0]?.until).toBeCloseTo(0.25, 9);
  });

  it('reads channel 10 as pitched when asked, or when there is nothing else', () => {
    const both = file([on(0, 60), off(10, 60), on(0, 36, 80, 9), off(10, 36, 9)]);
    // One track of two channels goes to two tracks in a reader that sorts by channel; pads send one track.
    const drums = file([on(0, 36, 80, 9), off(10, 36, 9)]);
    expect(read(drums).strikes.map(s => s.pitch)).toEqual([36]);
    expect(read(drums).lengthsMean).toBe(false);
    expect(read(both, { treatDrumsAsPitched: true }).strikes.length).toBe(2);
  });

  it('names the same bytes the same', () => {
    const bytes = file([on(0, 60), off(240, 60)]);
    expect(read(bytes).id).toBe(read(bytes).id);
    expect(read(bytes).id).not.toBe(read(file([on(0, 61), off(240, 61)])).id);
  });

  it('says what is wrong with a bad file', () => {
    const good = file([on(0, 60), off(240, 60)]);
    expect(kind(new Uint8Array())).toBe('not-midi');
    expect(kind(new TextEncoder().encode('this is no music at all'))).toBe('not-midi');
    expect(kind(file([]))).toBe('no-notes');
    expect(kind(new Uint8Array(LARGEST_FILE + 1))).toBe('too-large');
    for (let cut = 14; cut < good.length; cut++) expect(kind(good.slice(0, cut))).toBe('damaged-midi');
  });

  it('never throws, whatever byte is wrong', () => {
    const good = file([tempo(0, 400000), signature(3, 4), on(0, 60), off(240, 60), on(0, 62), off(240, 62)]);
    for (let i = 0; i < good.length; i++) {
      for (const byte of [0, 0x7f, 0x80, 0xff]) {
        const bad = Uint8Array.from(good);
        bad[i] = byte;
        const result = readStandardMidiFile(bad, 'take.mid');
        expect(result.ok || result.problem.what.length > 10).toBe(true);
      }
    }
  });
});
