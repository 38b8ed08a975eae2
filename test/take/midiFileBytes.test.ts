import { describe, expect, it } from 'vitest';
import { scanMidi } from '../../core/take/scanMidi.ts';
import { readStandardMidiFile } from '../../core/take/standardMidiFile.ts';

// Files by hand, byte by byte, after the standard MIDI file format (MThd, MTrk, variable-length numbers,
// running status): the division is 96 ticks a crotchet, and no tempo means 120 crotchets a minute.

const chunk = (name: string, ...bytes: number[]): number[] => [
  ...Array.from({ length: 4 }, (_, i) => name.charCodeAt(i)),
  0,
  0,
  bytes.length >> 8,
  bytes.length & 255,
  ...bytes,
];
const END = [0, 0xff, 0x2f, 0];
const track = (...bytes: number[]): number[] => chunk('MTrk', ...bytes, ...END);
const file = (tracks: number[][], claimed = tracks.length, format = 1): Uint8Array =>
  Uint8Array.from([...chunk('MThd', 0, format, 0, claimed, 0, 96), ...tracks.flat()]);
const read = (bytes: Uint8Array, options = {}): string[] => {
  const result = readStandardMidiFile(bytes, 'take.mid', options);
  if (!result.ok) return [result.problem.kind];
  return result.value.strikes.map(
    s => `${String(s.at)} ${String(s.pitch)} ${String(s.velocity)} ${String(s.until)}`,
  );
};
const NOTE = [0, 0x90, 60, 80, 48, 0x80, 60, 64];
const STRUCK = '0 60 80 0.25';

describe('a standard MIDI file, byte by byte', () => {
  it.each<[string, number[], string[]]>([
    ['one note', NOTE, [STRUCK]],
    [
      'programme change and channel pressure have one data byte',
      [0, 0xc0, 13, 0, 0xd0, 9, ...NOTE],
      [STRUCK],
    ],
    [
      'controller, pitch bend and key pressure have two',
      [0, 0xb0, 7, 99, 0, 0xe0, 0, 64, 0, 0xa0, 60, 1, ...NOTE],
      [STRUCK],
    ],
    [
      'running status: notes without a status byte',
      [0, 0x90, 60, 80, 48, 60, 0, 0, 64, 70, 48, 64, 0],
      [STRUCK, '0.25 64 70 0.5'],
    ],
    ['running status of one data byte', [0, 0xc0, 13, 0, 14, ...NOTE], [STRUCK]],
    [
      'system exclusive and text are passed over',
      [0, 0xf0, 3, 1, 2, 0xf7, 0, 0xff, 1, 2, 65, 66, ...NOTE],
      [STRUCK],
    ],
    ['a delta time of two bytes', [0, 0x90, 60, 80, 0x81, 0x40, 0x80, 60, 64], ['0 60 80 1']],
    [
      'a note that is never let go ends with the track',
      [0, 0x90, 60, 80, 96, 0x90, 62, 80, 96, 0x80, 62, 64],
      ['0 60 80 1.0052083333333333', '0.5 62 80 1'],
    ],
    [
      'two blows on one bar, let go in turn',
      [0, 0x90, 60, 80, 48, 0x90, 60, 90, 48, 0x80, 60, 0, 48, 0x80, 60, 0],
      ['0 60 80 0.5', '0.25 60 90 0.75'],
    ],
    ['what stands after End of Track is not read', [...NOTE, ...END, 0, 0x90, 70, 80], [STRUCK]],
    ['a system message inside a track', [0, 0xf1, 3, ...NOTE], ['damaged-midi']],
    ['a data byte above 127', [0, 0x90, 200, 80, ...NOTE], ['damaged-midi']],
    ['a velocity above 127', [0, 0x90, 60, 200, ...NOTE], ['damaged-midi']],
    ['a data byte with no status before it', [0, 60, 80, ...NOTE], ['damaged-midi']],
  ])('%s', (_, bytes, wanted) => {
    expect(read(file([track(...bytes)], 1, 0))).toEqual(wanted);
  });

  it('chunks of other kinds are passed over; a track that is missing is said', () => {
    expect(read(file([chunk('Junk', 1, 2, 3), track(...NOTE)], 1))).toEqual([STRUCK]);
    expect(read(file([track(), track(...NOTE)]))).toEqual([STRUCK]);
    expect(read(file([track(...NOTE)], 2))).toEqual(['damaged-midi']);
    expect(read(file([track(...NOTE), track(0, 0x90, 64, 80, 48, 0x80, 64, 0)], 1))).toEqual([STRUCK]);
  });

  it('a longer header is read to its end', () => {
    const bytes = [...chunk('MThd', 0, 0, 0, 1, 0, 96, 0, 0), ...track(...NOTE)];
    expect(read(Uint8Array.from(bytes))).toEqual([STRUCK]);
  });

  it('channel 10 beside other tracks is left out, unless it is asked for', () => {
    const drum = track(0, 0x99, 36, 80, 48, 0x89, 36, 0);
    const both = file([track(...NOTE), drum]);
    expect(read(both)).toEqual([STRUCK]);
    expect(read(both, { treatDrumsAsPitched: true })).toEqual(['0 36 80 0.25', STRUCK]);
    expect(read(file([track(), drum]))).toEqual(['0 36 80 0.25']);
  });

  it('film frames and a division of nought are refused', () => {
    const header = (high: number, low: number): Uint8Array =>
      Uint8Array.from([...chunk('MThd', 0, 0, 0, 1, high, low), ...track(...NOTE)]);
    expect(read(header(0xe8, 40))).toEqual(['damaged-midi']);
    expect(read(header(0, 0))).toEqual(['damaged-midi']);
  });

  it('what comes out of the scan is a whole file with the same header', () => {
    const scan = scanMidi(file([track(), track(...NOTE)]));
    if (scan.kind !== 'whole') throw new Error(scan.kind);
    expect([...scan.bytes.subarray(0, 14)]).toEqual(chunk('MThd', 0, 1, 0, 2, 0, 96));
    expect([scan.notes, scan.division]).toEqual([1, 96]);
    const again = scanMidi(scan.bytes);
    expect(again.kind === 'whole' && [...again.bytes]).toEqual([...scan.bytes]);
  });
});
