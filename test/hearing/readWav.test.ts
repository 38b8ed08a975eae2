import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wav16 } from '../../core/exchange/wav.ts';
import { readWav } from '../../core/hearing/readWav.ts';

/** A WAV file by hand, as the published format has it (Multimedia Programming Interface and Data Specifications 1.0). */
const wav = (
  { tag = 1, channels = 1, rate = 44100, bits = 16, extensible = false },
  data: readonly number[],
  before: readonly number[] = [],
): Uint8Array => {
  const text = (s: string): number[] => Array.from(s, c => c.charCodeAt(0));
  const le = (n: number, size: number): number[] =>
    Array.from({ length: size }, (_, i) => Math.floor(n / 256 ** i) & 255);
  const head = [
    ...le(extensible ? 0xfffe : tag, 2),
    ...le(channels, 2),
    ...le(rate, 4),
    ...le((rate * channels * bits) / 8, 4),
    ...le((channels * bits) / 8, 2),
    ...le(bits, 2),
    ...(extensible
      ? [...le(22, 2), ...le(bits, 2), ...le(0, 4), ...le(tag, 2), ...Array<number>(14).fill(0)]
      : []),
  ];
  const body = [
    ...text('WAVE'),
    ...text('fmt '),
    ...le(head.length, 4),
    ...head,
    ...before,
    ...text('data'),
    ...le(data.length, 4),
    ...data,
  ];
  return Uint8Array.from([...text('RIFF'), ...le(body.length, 4), ...body]);
};

const samplesOf = (bytes: Uint8Array): number[] => {
  const read = readWav(bytes, 'a.wav');
  if (!read.ok) throw new Error(read.problem.what);
  return [...read.value.samples];
};

describe('a WAV file', () => {
  it.each([
    ['16 bits', {}, [0, 64, 0, 192], [0.5, -0.5]],
    ['24 bits', { bits: 24 }, [0, 0, 64, 0, 0, 192], [0.5, -0.5]],
    ['32 bits', { bits: 32 }, [0, 0, 0, 64, 0, 0, 0, 192], [0.5, -0.5]],
    ['floating point', { tag: 3, bits: 32 }, [0, 0, 0, 63, 0, 0, 0, 191], [0.5, -0.5]],
    ['extensible', { extensible: true }, [0, 64, 0, 192], [0.5, -0.5]],
    ['two channels, averaged', { channels: 2 }, [0, 64, 0, 0], [0.25]],
    ['cut off in the middle of a sample', {}, [0, 64, 0], [0.5]],
    ['no number in floating point', { tag: 3, bits: 32 }, [0, 0, 192, 127], [0]],
  ])('of %s', (_, format, data, expected) => {
    expect(samplesOf(wav(format, data))).toEqual(expected);
  });

  it('with other chunks before its sound, one of them of an odd length', () => {
    expect(samplesOf(wav({}, [0, 64], [76, 73, 83, 84, 3, 0, 0, 0, 1, 2, 3, 0]))).toEqual([0.5]);
  });

  it('that this app wrote is read again, to a step of 16 bits', () => {
    const [a = 0, b = 0] = samplesOf(wav16([[0.25, -1]], 48000));
    expect(Math.abs(a - 0.25)).toBeLessThan(1 / 16384);
    expect(Math.abs(b + 1)).toBeLessThan(1 / 16384);
  });

  it.each([
    ['nothing', new Uint8Array()],
    ['another file', new TextEncoder().encode('MThd and so on, a MIDI file')],
    ['8 bits', wav({ bits: 8 }, [1])],
    ['4 kHz', wav({ rate: 4000 }, [0, 0])],
    ['192 kHz', wav({ rate: 192_000 }, [0, 0])],
    ['no channels', wav({ channels: 0 }, [0, 0])],
    ['a compressed one', wav({ tag: 85 }, [0, 0])],
    ['no sound', wav({}, []).slice(0, 36)],
  ])('of %s is refused in a sentence', (_, bytes) => {
    expect(readWav(bytes, 'a.wav')).toMatchObject({ ok: false, problem: { kind: 'damaged-file' } });
  });

  it('law: whatever the bytes are, it is an answer', () => {
    const good = wav({}, Array<number>(64).fill(7));
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(good.length - 1), fc.nat(255)), { maxLength: 6 }),
        fc.nat(good.length),
        (changes, length) => {
          const bytes = good.slice(0, length);
          for (const [at, to] of changes) if (at < bytes.length) bytes[at] = to;
          const read = readWav(bytes, 'a.wav');
          if (read.ok) expect(read.value.samples.every(s => Number.isFinite(s))).toBe(true);
          else expect(read.problem.what).toContain('a.wav');
        },
      ),
      { numRuns: 500, seed: 2 },
    );
  });
});
