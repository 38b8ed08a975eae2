import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readMidi } from '../../core/take/midiBytes.ts';

// MIDI 1.0 Detailed Specification, channel voice messages: 8n note off, 9n note on.
describe('reading a MIDI message', () => {
  it('reads a note on of every channel but 10', () => {
    for (let channel = 0; channel < 16; channel += 1) {
      const { note } = readMidi([0x90 | channel, 60, 100], false);
      expect(note).toEqual(channel === 9 ? undefined : { kind: 'on', pitch: 60, velocity: 100 });
    }
  });

  it('reads channel 10 when its drums are bars', () => {
    expect(readMidi([0x99, 60, 100], true).note).toEqual({ kind: 'on', pitch: 60, velocity: 100 });
  });

  it('takes a note on of velocity 0 for a note off', () => {
    expect(readMidi([0x90, 60, 0], false).note).toEqual({ kind: 'off', pitch: 60 });
    expect(readMidi([0x80, 60, 64], false).note).toEqual({ kind: 'off', pitch: 60 });
  });

  it.each([
    ['aftertouch', [0xa0, 60, 30]],
    ['a pedal', [0xb0, 64, 127]],
    ['a program change', [0xc0, 12]],
    ['pitch bend', [0xe0, 0, 64]],
    ['clock', [0xf8]],
    ['system exclusive', [0xf0, 0x7e, 0xf7]],
    ['nothing', []],
    ['a note cut short', [0x90, 60]],
    ['a status where data should be', [0x90, 0x90, 60]],
  ])('ignores %s', (_, bytes) => {
    expect(readMidi(bytes, true).note).toBeUndefined();
  });

  it('reads a message without status under the last one, across clock ticks', () => {
    const first = readMidi([0x90, 60, 100], false);
    const clock = readMidi([0xf8], false, first.running);
    expect(readMidi([62, 90], false, clock.running).note).toEqual({ kind: 'on', pitch: 62, velocity: 90 });
    const common = readMidi([0xf2, 0, 0], false, first.running);
    expect(readMidi([62, 90], false, common.running).note).toBeUndefined();
  });

  it('gives a note in range or none, whatever the bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 5 }), fc.boolean(), (bytes, drums) => {
        const { note } = readMidi(bytes, drums);
        if (note === undefined) return;
        expect(note.pitch).toBeLessThan(128);
        if (note.kind === 'on') expect(note.velocity >= 1 && note.velocity <= 127).toBe(true);
      }),
    );
  });
});
