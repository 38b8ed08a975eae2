import { describe, expect, it } from 'vitest';
import { wav16 } from '../../core/exchange/wav.ts';

// RIFF/WAVE, format tag 1: Multimedia Programming Interface and Data Specifications 1.0 (IBM and Microsoft, 1991).
describe('a WAV file', () => {
  const bytes = wav16(
    [
      [0, 1, -1],
      [0.5, 2, -2],
    ],
    44100,
  );
  const view = new DataView(bytes.buffer);
  const text = (at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4));

  it('has the RIFF, fmt and data chunks with sizes that add up', () => {
    expect([text(0), text(8), text(12), text(36)]).toEqual(['RIFF', 'WAVE', 'fmt ', 'data']);
    expect(view.getUint32(4, true)).toBe(bytes.length - 8);
    expect(view.getUint32(16, true)).toBe(16);
    expect(view.getUint32(40, true)).toBe(bytes.length - 44);
  });

  it('says 16-bit stereo PCM at its sample rate', () => {
    expect(view.getUint16(20, true)).toBe(1);
    expect(view.getUint16(22, true)).toBe(2);
    expect(view.getUint32(24, true)).toBe(44100);
    expect(view.getUint32(28, true)).toBe(176400);
    expect(view.getUint16(32, true)).toBe(4);
    expect(view.getUint16(34, true)).toBe(16);
  });

  it('holds left and right in turn, little-endian, never wrapping round at full scale', () => {
    const samples = Array.from({ length: 6 }, (_, i) => view.getInt16(44 + 2 * i, true));
    expect(samples).toEqual([0, 16384, 32767, 32767, -32767, -32767]);
  });

  it('may be mono and may be empty', () => {
    expect(wav16([[]], 8000)).toHaveLength(44);
    expect(wav16([[0.1, 0.2]], 8000)).toHaveLength(48);
  });

  it('refuses no channels, and channels of different lengths', () => {
    expect(() => wav16([], 44100)).toThrow(RangeError);
    expect(() => wav16([[0], [0, 0]], 44100)).toThrow(/channels of one length/);
  });
});
