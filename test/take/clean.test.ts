import { describe, expect, it } from 'vitest';
import { cleanTake } from '../../core/take/clean.ts';
import type { Take } from '../../core/take/take.ts';

const take = (...strikes: readonly (readonly [number, number, number])[]): Take => ({
  id: 't',
  capturedAt: '2026-01-01T00:00:00.000Z',
  source: 'midi',
  from: 'pad',
  latency: 10,
  lengthsMean: false,
  strikes: strikes.map(([ms, pitch, velocity]) => ({ at: ms / 1000, pitch, velocity })),
});

describe('cleaning a take', () => {
  it('takes latency off and gathers strikes within 30 ms, one to a bar', () => {
    const { events } = cleanTake(take([100, 67, 80], [120, 60, 90], [300, 60, 80]));
    expect(events.map(e => e.strikes)).toEqual([[1, 0], [2]]);
    expect(events[0]?.at).toBeCloseTo(0.1, 9);
    expect(events[0]?.velocity).toBe(90);
  });

  it('drops a strike of the same bar within 30 ms however hard, within 60 ms when much softer', () => {
    expect(cleanTake(take([0, 60, 80], [25, 60, 100])).dropped).toEqual([1]);
    expect(cleanTake(take([0, 60, 80], [50, 60, 31])).dropped).toEqual([1]);
    expect(cleanTake(take([0, 60, 80], [50, 60, 33])).dropped).toEqual([]);
    expect(cleanTake(take([0, 60, 80], [61, 60, 10])).dropped).toEqual([]);
    expect(cleanTake(take([0, 60, 80], [25, 62, 10])).dropped).toEqual([]);
  });

  it('never drops what the teacher pinned', () => {
    expect(cleanTake(take([0, 60, 80], [25, 60, 20]), undefined, new Set([1])).dropped).toEqual([]);
  });
});
