import { describe, expect, it } from 'vitest';
import { metre } from '../../core/foundation/metre.ts';
import { catchPhrase, type Catch } from '../../core/take/catchPhrase.ts';
import { beatsInBar } from '../../core/take/clickBeats.ts';
import {
  addRelease,
  addStrike,
  EMPTY_MEMORY,
  type HeardSource,
  type Memory,
} from '../../core/take/memory.ts';
import type { Take } from '../../core/take/take.ts';

type Played = readonly [at: number, held?: number, source?: HeardSource];

const memoryOf = (played: readonly Played[]): Memory =>
  played.reduce<Memory>((memory, [at, held, source = 'midi']) => {
    const struck = addStrike(memory, {
      at,
      pitch: 60,
      velocity: 80,
      device: source,
      name: `The ${source}`,
      source,
    });
    return held === undefined ? struck : addRelease(struck, { at: at + held, pitch: 60, device: source });
  }, EMPTY_MEMORY);
const caught = (memory: Memory, more: Partial<Catch> = {}): Take => {
  const result = catchPhrase(memory, {
    from: 0,
    to: 999,
    id: 't1',
    capturedAt: '2030-01-01T09:00:00Z',
    latency: 5,
    ...more,
  });
  if (!result.ok) throw new Error(result.problem.kind);
  return result.value;
};
const every = (first: number, period: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => first + i * period);

describe('catching a phrase', () => {
  it('without a click makes the first strike time 0', () => {
    const take = caught(memoryOf([[100, 0.2], [100.5], [101]]));
    expect(take.strikes.map(({ at }) => at)).toEqual([0, 0.5, 1]);
    expect(take.strikes[0]?.until).toBeCloseTo(0.2, 9);
    expect(take.strikes[1]).not.toHaveProperty('until');
    expect(take).toMatchObject({ id: 't1', source: 'midi', from: 'The midi', latency: 5 });
    expect(take).not.toHaveProperty('click');
  });

  it('with a click makes the barline it begins in time 0, and drops the bars before', () => {
    const beats = every(10, 0.5, 40);
    // Bars of 2 s from 10 s: the first strike, at 16.6, lies in the bar from 16 s.
    const take = caught(memoryOf([[16.6], [17], [18]]), { click: { metre: metre(4, 4), beats } });
    expect(take.strikes[0]?.at).toBeCloseTo(0.6, 9);
    expect(take.click?.beats.slice(0, 2)).toEqual([0, 0.5]);
    expect(take.click?.beats.at(-1)).toBe(2.5);
  });

  it('counts a strike a little before a barline to that barline', () => {
    const take = caught(memoryOf([[15.95], [17]]), {
      click: { metre: metre(4, 4), beats: every(10, 0.5, 40) },
    });
    expect(take.strikes[0]?.at).toBeCloseTo(-0.05, 9);
  });

  it('keeps the tempo where it is caught on the last beat heard so far', () => {
    const take = caught(memoryOf([[18.01]]), { click: { metre: metre(4, 4), beats: every(10, 0.5, 17) } });
    expect(take.click?.beats.length).toBeGreaterThanOrEqual(2);
    expect(take.click?.beats[0]).toBe(0);
    expect(take.strikes[0]?.at).toBeCloseTo(2.01, 9);
  });

  it('drops a click that never reached two beats', () => {
    expect(caught(memoryOf([[10.1]]), { click: { metre: metre(4, 4), beats: [10] } })).not.toHaveProperty(
      'click',
    );
  });

  it('takes no click that had stopped long before, or began long after', () => {
    const click = { metre: metre(4, 4), beats: every(10, 0.5, 9) };
    expect(caught(memoryOf([[60], [61]]), { click })).not.toHaveProperty('click');
    expect(caught(memoryOf([[2], [3]]), { click })).not.toHaveProperty('click');
    // The upbeat to its first bar, and a phrase it stopped in the middle of, were played to it.
    expect(caught(memoryOf([[9.5], [10]]), { click }).click?.beats[0]).toBe(0);
    expect(caught(memoryOf([[12], [15], [18]]), { click })).toHaveProperty('click');
  });

  it('keeps only what lies between the two moments', () => {
    expect(caught(memoryOf([[1], [2], [3], [4]]), { from: 2, to: 3 }).strikes).toHaveLength(2);
  });

  it('names every source once; several are mixed', () => {
    const take = caught(
      memoryOf([
        [1, 0.1, 'screen'],
        [2, 0.1, 'keys'],
        [3, 0.1, 'keys'],
      ]),
    );
    expect(take).toMatchObject({ source: 'mixed', from: 'The screen, The keys' });
  });

  it('says so when nothing was played', () => {
    const result = catchPhrase(EMPTY_MEMORY, { from: 0, to: 1, id: 'x', capturedAt: '', latency: 0 });
    expect(result).toMatchObject({
      ok: false,
      problem: {
        kind: 'no-notes',
        what: 'Nothing was played just now.',
        kept: 'All earlier takes are kept.',
        next: 'Play a few notes, then catch them.',
      },
    });
  });
});

describe('lengths mean something', () => {
  const take = (...held: (number | undefined)[]): boolean =>
    caught(memoryOf(held.map((length, i) => (length === undefined ? [i] : [i, length])))).lengthsMean;

  it('for a keyboard, whose notes are held for different times', () => {
    expect(take(0.2, 0.45, 0.9, 0.3)).toBe(true);
  });
  it('not for a pad whose note-off follows at once, or never comes', () => {
    expect(take(0.01, 0.02, 0.03, 0.01)).toBe(false);
    expect(take(undefined, undefined, undefined)).toBe(false);
  });
  it('not for a pad with a fixed gate', () => {
    expect(take(0.1, 0.1, 0.101, 0.1)).toBe(false);
  });
  it('not where only a few notes were held', () => {
    expect(take(0.5, 0.01, 0.01, 0.9, undefined)).toBe(false);
  });
  it('not for the screen or the computer keyboard', () => {
    const screen = memoryOf([
      [1, 0.2, 'screen'],
      [2, 0.5, 'screen'],
      [3, 0.9, 'screen'],
    ]);
    expect(caught(screen).lengthsMean).toBe(false);
  });
});

describe('beats in a bar', () => {
  // Common practice, no source: the conductor's beats.
  it.each([
    [4, 4, 4],
    [3, 4, 3],
    [2, 2, 2],
    [6, 8, 2],
    [12, 8, 4],
    [5, 8, 5],
  ])('of %i/%i are %i', (upper, lower, beats) => {
    expect(beatsInBar(metre(upper, lower))).toBe(beats);
  });
});
