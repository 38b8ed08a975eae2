import { describe, expect, it } from 'vitest';
import { barBeside } from '../../renderer/input/walkBars.ts';

// Naturals in front, accidentals behind, as the bars of every tuned percussion instrument lie (common practice, no
// source).
const OCTAVE = [60, 61, 62, 63, 64, 65, 66, 67, 68, 69, 70, 71, 72];
const PENTATONIC = [60, 62, 64, 67, 69, 72];

describe('walking among bars', () => {
  it('goes to the neighbour in pitch, over what is lifted off, and no further than the ends', () => {
    expect(barBeside(OCTAVE, 64, 'ArrowRight')).toBe(65);
    expect(barBeside(OCTAVE, 65, 'ArrowLeft')).toBe(64);
    expect(barBeside(PENTATONIC, 64, 'ArrowRight')).toBe(67);
    expect(barBeside(PENTATONIC, 72, 'ArrowRight')).toBeUndefined();
    expect(barBeside(PENTATONIC, 60, 'ArrowLeft')).toBeUndefined();
    // A bar that was lifted off while the focus was on it.
    expect(barBeside(PENTATONIC, 65, 'ArrowRight')).toBe(67);
  });

  it('goes behind and in front to the nearest, of two as near the higher', () => {
    expect(barBeside(OCTAVE, 62, 'ArrowUp')).toBe(63);
    expect(barBeside(OCTAVE, 64, 'ArrowUp')).toBe(63);
    expect(barBeside(OCTAVE, 66, 'ArrowDown')).toBe(67);
    expect(barBeside(OCTAVE, 60, 'ArrowDown')).toBeUndefined();
    expect(barBeside(OCTAVE, 61, 'ArrowUp')).toBeUndefined();
    expect(barBeside(PENTATONIC, 60, 'ArrowUp')).toBeUndefined();
  });

  it('goes to both ends, and no other key walks', () => {
    expect(barBeside(PENTATONIC, 64, 'Home')).toBe(60);
    expect(barBeside(PENTATONIC, 64, 'End')).toBe(72);
    expect(barBeside([], 64, 'End')).toBeUndefined();
    expect(barBeside(OCTAVE, 64, 'Enter')).toBeUndefined();
  });

  it('is walked from end to end and back over the same bars', () => {
    for (const bars of [OCTAVE, PENTATONIC]) {
      const walk = (from: number, key: string): number[] => {
        const next = barBeside(bars, from, key);
        return next === undefined ? [from] : [from, ...walk(next, key)];
      };
      expect(walk(60, 'ArrowRight')).toEqual(bars);
      expect(walk(72, 'ArrowLeft')).toEqual([...bars].reverse());
    }
  });
});
