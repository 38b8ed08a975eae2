import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readWav } from '../../core/hearing/readWav.ts';
import { createSoundMemory } from '../../core/hearing/soundMemory.ts';
import { wav16 } from '../../core/exchange/wav.ts';
import { noise } from './bars.ts';

describe('the memory of sound', () => {
  it('law: is the end of all that came, however it was cut, wherever it is asked for', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 300 }),
        fc.array(fc.integer({ min: 0, max: 200 }), { maxLength: 8 }),
        fc.double({ min: -50, max: 900, noNaN: true }),
        fc.double({ min: -50, max: 900, noNaN: true }),
        (most, lengths, from, to) => {
          const random = noise(3);
          const memory = createSoundMemory(most);
          // In steps of a file of 16 bits.
          const all: number[] = [];
          for (const length of lengths) {
            const piece = Array.from({ length }, () => Math.round(random() * 32767) / 32767);
            memory.remember(Float32Array.from(piece));
            all.push(...Float32Array.from(piece));
          }
          const first = Math.max(0, all.length - most, Math.ceil(from));
          const found = memory.between(from, to);
          expect(found.from).toBe(first);
          expect([...found.samples]).toEqual(all.slice(first, Math.max(first, Math.floor(to))));
        },
      ),
      { seed: 5 },
    );
  });

  it('holds what is too loud at full scale and what is no number as silence, as the file that is made of it does', () => {
    const memory = createSoundMemory(8);
    memory.remember(Float32Array.from([2, -7, NaN, Infinity, -Infinity, 0.5, 1, 0.25]));
    const { samples } = memory.between(0, 8);
    expect([...samples.subarray(0, 5)]).toEqual([1, -1, 0, 1, -1]);
    const read = readWav(wav16([samples], 8000), 'a.wav');
    if (!read.ok) throw new Error(read.problem.what);
    read.value.samples.forEach((sample, i) => {
      // Full scale is 32767 where it is written and 32768 where it is read.
      expect(Math.abs(sample - (samples[i] ?? NaN))).toBeLessThan(1 / 32000);
    });
  });

  it('forgets all of it when it is told to', () => {
    const memory = createSoundMemory(4);
    memory.remember(Float32Array.from([1, 1, 1, 1, 1]));
    memory.forget();
    expect(memory.between(0, 9)).toEqual({ from: 0, samples: new Float32Array(0) });
    memory.remember(Float32Array.from([0.5]));
    expect(memory.between(-2, 9).samples).toHaveLength(1);
  });
});
