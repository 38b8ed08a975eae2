import { describe, expect, it } from 'vitest';
import { cleanTake, leadingNotes } from '../../core/take/clean.ts';
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
    expect(cleanTake(take([0, 60, 80], [25, 60, 90])).dropped).toEqual([1]);
    expect(cleanTake(take([0, 60, 80], [50, 60, 31])).dropped).toEqual([1]);
    expect(cleanTake(take([0, 60, 80], [50, 60, 33])).dropped).toEqual([]);
    expect(cleanTake(take([0, 60, 80], [61, 60, 10])).dropped).toEqual([]);
    expect(cleanTake(take([0, 60, 80], [25, 62, 10])).dropped).toEqual([]);
  });

  it('hears a soft blow just before a louder one on the same bar as a flam', () => {
    for (const ms of [15, 25, 40, 60]) {
      const { events, dropped, graces } = cleanTake(take([0, 60, 50], [ms, 60, 90], [500, 62, 90]));
      expect(dropped).toEqual([]);
      expect([...graces]).toEqual([[1, [0]]]);
      expect(events.map(e => e.strikes)).toEqual([[1], [2]]);
      expect(events[0]?.at).toBeCloseTo(ms / 1000 - 0.01, 9);
    }
  });

  it('hears no flam too far apart, on another bar, or in blows of like force', () => {
    expect(cleanTake(take([0, 60, 50], [61, 60, 90])).graces.size).toBe(0);
    expect(cleanTake(take([0, 60, 50], [40, 62, 90])).graces.size).toBe(0);
    expect(cleanTake(take([0, 60, 80], [40, 60, 90])).graces.size).toBe(0);
    expect(cleanTake(take([0, 60, 90], [40, 60, 50])).graces.size).toBe(0);
  });

  it('leaves a pinned soft blow a note of its own, and the louder one too', () => {
    const { events, dropped, graces } = cleanTake(take([0, 60, 50], [25, 60, 90]), undefined, new Set([0]));
    expect([dropped, graces.size]).toEqual([[], 0]);
    expect(events.map(e => e.strikes)).toEqual([[0], [1]]);
  });

  it('never drops what the teacher pinned', () => {
    expect(cleanTake(take([0, 60, 80], [25, 60, 20]), undefined, new Set([1])).dropped).toEqual([]);
  });
});

describe('leading notes', () => {
  const found = (...strikes: readonly (readonly [number, number, number])[]) => {
    const t = take(...strikes);
    return [...leadingNotes(t, cleanTake(t))];
  };
  const before = [0, 67, 90] as const;
  const after = [1000, 65, 90] as const;

  it('are soft, short, at most a tone away and apart from what is around them', () => {
    expect(found(before, [450, 71, 60], [500, 72, 90], after)).toEqual([[2, [1]]]);
    expect(found([450, 70, 60], [520, 72, 90])).toEqual([[1, [0]]]);
  });

  it.each([
    ['as loud as the note', [450, 71, 80]],
    ['too long', [410, 71, 60]],
    ['struck together with it', [475, 71, 60]],
    ['a third away', [450, 69, 60]],
  ] as const)('are not %s', (_, soft) => {
    expect(found(before, soft, [500, 72, 90], after)).toEqual([]);
  });

  it('are not part of a quick run', () => {
    expect(found([430, 70, 90], [500, 71, 60], [570, 72, 90], [640, 71, 60], [710, 72, 90])).toEqual([]);
  });

  it('set aside are in no event', () => {
    const t = take(before, [450, 71, 60], [500, 72, 90], after);
    const { events, graces } = cleanTake(t, undefined, new Set(), leadingNotes(t, cleanTake(t)));
    expect(events.map(e => e.strikes)).toEqual([[0], [2], [3]]);
    expect([...graces]).toEqual([[2, [1]]]);
  });
});
