import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cleanTake } from '../../core/take/clean.ts';
import { fastRuns } from '../../core/take/fastRuns.ts';
import type { Take } from '../../core/take/take.ts';

/** Strikes by milliseconds and pitch. */
const struck = (...all: readonly (readonly [number, number])[]): Take => ({
  id: 't',
  capturedAt: '',
  source: 'midi',
  from: '',
  latency: 0,
  lengthsMean: false,
  strikes: all.map(([ms, pitch], i) => ({ at: ms / 1000, pitch, velocity: 60 + ((i * 37) % 50) })),
});
/** So many strokes, so many milliseconds apart, on these bars in turn. */
const strokes = (from: number, count: number, gap: number, ...bars: readonly number[]): [number, number][] =>
  Array.from({ length: count }, (_, i) => [from + i * gap, bars[i % bars.length] ?? 60]);

// Rolls of mallet players have some 10 to 20 strokes a second (common practice, no source).
describe('strokes that may be a roll', () => {
  it.each([50, 60, 70, 83, 100])('one bar every %d ms, two bars in turn', gap => {
    const one = Array.from({ length: 7 }, (_, i) => i);
    expect(fastRuns(struck(...strokes(0, 7, gap, 60)))).toEqual([one]);
    expect(fastRuns(struck(...strokes(0, 7, gap, 60, 67)))).toEqual([one]);
  });

  it('quavers and semiquavers of beginners are none, however long they go on', () => {
    // 6 a second is comfortable, 8 a hard cap for beginners (facts.md, from memory).
    for (const gap of [130, 167, 250]) {
      expect(fastRuns(struck(...strokes(0, 16, gap, 60)))).toEqual([]);
      expect(fastRuns(struck(...strokes(0, 16, gap, 60, 62)))).toEqual([]);
    }
  });

  it('two to four strokes are a flam, a drag or a ruff, never a roll', () => {
    for (const count of [2, 3, 4]) expect(fastRuns(struck(...strokes(0, count, 50, 60)))).toEqual([]);
  });

  it('bounces of the mallet make no roll of semiquavers, and are no strokes of one', () => {
    // Every other of eight semiquavers at 100 and 120 bpm bounces after 22 ms.
    for (const gap of [150, 125])
      for (const soft of [true, false]) {
        const strikes = Array.from({ length: 8 }, (_, i) => [
          { at: (i * gap) / 1000, pitch: 60, velocity: 90 },
          ...(i % 2 === 0 ? [] : [{ at: (i * gap + 22) / 1000, pitch: 60, velocity: soft ? 30 : 90 }]),
        ]).flat();
        expect(fastRuns({ strikes }).flat().length).toBe(gap === 150 ? 0 : 8);
      }
    const roll = struck(...strokes(0, 3, 80, 60), [180, 60], ...strokes(240, 3, 80, 60));
    expect(fastRuns(roll)).toEqual([[0, 1, 2, 4, 5, 6]]);
    const { events, dropped, rolls } = cleanTake(roll, undefined, undefined, undefined, {
      rolls: fastRuns(roll),
      lines: [],
    });
    expect([events.map(e => e.strikes), dropped, [...rolls]]).toEqual([
      [[0]],
      [3],
      [[0, [0, 1, 2, 4, 5, 6]]],
    ]);
  });

  it('a scale is none, nor three bars in turn', () => {
    expect(fastRuns(struck(...strokes(0, 9, 60, 60, 62, 64)))).toEqual([]);
    expect(fastRuns(struck(...strokes(0, 7, 50, 60, 62, 64, 65, 67, 69, 71)))).toEqual([]);
  });

  it('what comes after a pause is another note, and so is what is struck before', () => {
    const take = struck([0, 60], ...strokes(155, 6, 80, 60), [710, 60]);
    expect(fastRuns(take)).toEqual([[1, 2, 3, 4, 5, 6]]);
  });

  it('one roll after the other, on another bar each', () => {
    const take = struck(...strokes(0, 6, 80, 60), ...strokes(480, 6, 80, 62), ...strokes(960, 6, 80, 60, 64));
    expect(fastRuns(take).map(run => run.length)).toEqual([6, 6, 6]);
  });

  it('a stroke that the teacher wrote as a note of its own leaves none', () => {
    const take = struck(...strokes(0, 6, 80, 60));
    expect(fastRuns(take, new Set([3]))).toEqual([]);
    expect(fastRuns(take, new Set([0]))).toHaveLength(1);
    const two = struck(...strokes(0, 6, 80, 60, 64));
    expect(fastRuns(two, new Set([1]))).toHaveLength(1);
    expect(fastRuns(two, new Set([2]))).toEqual([]);
  });
});

const anyTake = fc
  .array(
    fc.record({
      gap: fc.oneof(
        { weight: 9, arbitrary: fc.integer({ min: 0, max: 120 }) },
        fc.integer({ min: 100, max: 900 }),
      ),
      pitch: fc.constantFrom(60, 60, 60, 60, 60, 60, 60, 64),
    }),
    { minLength: 20, maxLength: 40 },
  )
  .map(all => {
    let at = 0;
    return struck(...all.map(({ gap, pitch }) => [(at += gap), pitch] as const));
  });

describe('of any take', () => {
  it('no strike is lost: each is a note, a grace note, dropped, or a stroke of a rolled note', () => {
    let rolled = 0;
    fc.assert(
      fc.property(anyTake, take => {
        const runs = fastRuns(take);
        expect(new Set(runs.flat()).size).toBe(runs.flat().length);
        const quick = { rolls: runs, lines: [] };
        const { events, dropped, graces, rolls } = cleanTake(take, undefined, undefined, undefined, quick);
        const notes = events.flatMap(e => e.strikes);
        const later = [...rolls].flatMap(([first, all]) => all.filter(i => i !== first));
        const all = [...notes, ...dropped, ...[...graces.values()].flat(), ...later];
        expect([...all].sort((a, b) => a - b)).toEqual(take.strikes.map((_, i) => i));
        for (const [first, own] of rolls) {
          expect(notes).toContain(first);
          expect(new Set(own.map(i => take.strikes[i]?.pitch)).size).toBe(1);
        }
        rolled += runs.length;
      }),
      { numRuns: 400 },
    );
    expect(rolled).toBeGreaterThan(20);
  });

  it('looks at each strike a few times, however many there are', () => {
    const looks = (bars: readonly number[], count: number): number => {
      let read = 0;
      const take = struck(...strokes(0, count, 80, ...bars));
      const strikes = new Proxy(take.strikes, {
        get: (list, name, receiver) => {
          if (typeof name === 'string' && /^\d+$/.test(name)) read++;
          return Reflect.get(list, name, receiver) as unknown;
        },
      });
      fastRuns({ strikes });
      return read;
    };
    for (const bars of [[60], [60, 64], [60, 62, 64], [60, 60, 64]])
      expect(looks(bars, 4000) / looks(bars, 500)).toBeLessThan(12);
  });
});
