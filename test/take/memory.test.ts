import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addRelease,
  addStrike,
  deviceGone,
  EMPTY_MEMORY,
  lastPhrase,
  type Memory,
  MEMORY_SPAN,
  phrases,
  strikesBetween,
} from '../../core/take/memory.ts';

const strike = (at: number, pitch = 60, device = 'pad') => ({
  at,
  pitch,
  velocity: 90,
  device,
  name: 'Pad',
  source: 'midi' as const,
});
const playing = (...times: number[]): Memory =>
  times.reduce((memory, at) => addStrike(memory, strike(at)), EMPTY_MEMORY);
const times = (memory: Memory): readonly number[] => memory.strikes.map(({ at }) => at);

describe('the memory that always listens', () => {
  it('keeps five minutes and nothing older', () => {
    const memory = playing(0, 10, 299, 300, 305, 311);
    expect(times(memory)).toEqual([299, 300, 305, 311]);
    expect(MEMORY_SPAN).toBe(300);
  });

  it('keeps the order of time, whatever order strikes are reported in', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 290, noNaN: true }), { maxLength: 40 }), all => {
        expect(times(playing(...all))).toEqual([...all].sort((a, b) => a - b));
      }),
    );
  });

  it('leaves the older value as it was', () => {
    const before = playing(1, 2);
    addStrike(before, strike(3));
    addRelease(before, { at: 4, pitch: 60, device: 'pad' });
    expect(times(before)).toEqual([1, 2]);
    expect(before.strikes.every(({ until }) => until === undefined)).toBe(true);
  });

  it('gives a release to the latest strike of that bar and device', () => {
    const memory = addRelease(playing(1, 2), { at: 2.5, pitch: 60, device: 'pad' });
    expect(memory.strikes.map(({ until }) => until)).toEqual([undefined, 2.5]);
    const later = addRelease(memory, { at: 9, pitch: 60, device: 'pad' });
    expect(later.strikes.map(({ until }) => until)).toEqual([undefined, 2.5]);
  });

  it('ignores a release of another bar, of another device, or of nothing', () => {
    const memory = playing(1);
    expect(addRelease(memory, { at: 2, pitch: 61, device: 'pad' })).toBe(memory);
    expect(addRelease(memory, { at: 2, pitch: 60, device: 'other' })).toBe(memory);
    expect(addRelease(EMPTY_MEMORY, { at: 2, pitch: 60, device: 'pad' })).toBe(EMPTY_MEMORY);
  });

  it('keeps all a device played when it is unplugged, and no later note-off touches it', () => {
    const memory = addRelease(deviceGone(playing(1, 2), 'pad'), { at: 30, pitch: 60, device: 'pad' });
    expect(times(memory)).toEqual([1, 2]);
    expect(memory.strikes.every(({ until }) => until === undefined)).toBe(true);
  });

  it('is not disturbed by a time that is no number', () => {
    expect(addStrike(EMPTY_MEMORY, strike(Number.NaN))).toBe(EMPTY_MEMORY);
  });
});

describe('phrases', () => {
  it('part where a silence of two seconds lies', () => {
    const found = phrases(playing(1, 1.5, 3.4, 5.4, 6), 20);
    expect(found.map(({ from, to }) => [from, to])).toEqual([
      [1, 3.4],
      [5.4, 6],
    ]);
  });

  it('part by another silence where one is asked for', () => {
    expect(phrases(playing(1, 1.5, 3.4, 5.4, 6), 20, { silence: 1 })).toHaveLength(3);
    expect(phrases(playing(1, 1.5, 3.4, 5.4, 6), 20, { silence: 5 })).toHaveLength(1);
  });

  it('go on while a note is held', () => {
    const held = addRelease(playing(1), { at: 4, pitch: 60, device: 'pad' });
    expect(phrases(addStrike(held, strike(5)), 20)).toHaveLength(1);
  });

  it('say whether their closing silence has passed', () => {
    expect(lastPhrase(playing(1, 2), 3)?.finished).toBe(false);
    expect(lastPhrase(playing(1, 2), 4)?.finished).toBe(true);
    expect(phrases(playing(1, 9), 9.5).map(({ finished }) => finished)).toEqual([true, false]);
  });

  it('are forgotten after five minutes even if nothing is played since', () => {
    expect(lastPhrase(playing(1, 2), 302.5)).toBeUndefined();
    expect(lastPhrase(EMPTY_MEMORY, 10)).toBeUndefined();
  });

  it('hold every remembered strike exactly once', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 290, noNaN: true }), { maxLength: 40 }), all => {
        const memory = playing(...all);
        expect(phrases(memory, 290).flatMap(({ strikes }) => strikes)).toEqual(memory.strikes);
      }),
    );
  });

  it('can be cut by two moments, both included', () => {
    expect(strikesBetween(playing(1, 2, 3, 4), 2, 3).map(({ at }) => at)).toEqual([2, 3]);
  });
});
