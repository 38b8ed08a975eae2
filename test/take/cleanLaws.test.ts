import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cleanTake } from '../../core/take/clean.ts';
import type { Strike, Take } from '../../core/take/take.ts';

const takeOf = (strikes: readonly Strike[], latency = 0): Take => ({
  id: 't',
  capturedAt: '',
  source: 'midi',
  from: '',
  latency,
  lengthsMean: false,
  strikes,
});
/** Strikes by milliseconds, pitch and velocity. */
const struck = (...all: readonly (readonly [number, number, number])[]): Take =>
  takeOf(all.map(([ms, pitch, velocity]) => ({ at: ms / 1000, pitch, velocity })));

const anyTake = fc
  .array(
    fc.record({
      ms: fc.integer({ min: 0, max: 900 }),
      pitch: fc.constantFrom(60, 62, 64),
      velocity: fc.integer({ min: 1, max: 127 }),
    }),
    { maxLength: 14 },
  )
  .map(all => takeOf(all.map(({ ms, pitch, velocity }) => ({ at: ms / 1000, pitch, velocity }))));

describe('cleaning any take', () => {
  it('each strike is a note, a grace note or dropped, and never two of these', () => {
    fc.assert(
      fc.property(anyTake, fc.uniqueArray(fc.nat(13), { maxLength: 3 }), (take, pinned) => {
        const { events, dropped, graces } = cleanTake(take, undefined, new Set(pinned));
        const all = [...events.flatMap(e => e.strikes), ...dropped, ...[...graces.values()].flat()];
        expect([...all].sort((a, b) => a - b)).toEqual(take.strikes.map((_, i) => i));
      }),
      { numRuns: 300 },
    );
  });

  it('a stroke before a full ruff is no part of it, and is not lost', () => {
    const take = struck([0, 60, 20], [50, 60, 30], [100, 60, 45], [150, 60, 60], [200, 60, 90]);
    // The last was put somewhere by hand, so they are no roll.
    const { events, dropped, graces } = cleanTake(take, undefined, new Set([4]));
    expect(events.map(e => e.strikes)).toEqual([[3], [4]]);
    expect([dropped, [...graces]]).toEqual([[], [[3, [0, 1, 2]]]]);
  });

  it('no event holds one bar twice or strikes further apart than a chord; events go on in time', () => {
    fc.assert(
      fc.property(anyTake, take => {
        const { events } = cleanTake(take);
        let before = -Infinity;
        for (const event of events) {
          const strikes = event.strikes.flatMap(i => take.strikes[i] ?? []);
          const times = strikes.map(s => s.at);
          expect(new Set(strikes.map(s => s.pitch)).size).toBe(strikes.length);
          expect(Math.max(...times) - Math.min(...times)).toBeLessThan(0.03);
          expect(strikes.map(s => s.pitch)).toEqual(strikes.map(s => s.pitch).sort((a, b) => a - b));
          expect(event.velocity).toBe(Math.max(...strikes.map(s => s.velocity)));
          expect(event.at).toBeCloseTo(times.reduce((a, b) => a + b, 0) / times.length, 9);
          expect(Math.min(...times)).toBeGreaterThanOrEqual(before);
          before = Math.min(...times);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('what is pinned is a note of its own, always', () => {
    fc.assert(
      fc.property(anyTake, fc.nat(13), (take, pin) => {
        if (pin >= take.strikes.length) return;
        const { events } = cleanTake(take, undefined, new Set([pin]));
        expect(events.flatMap(e => e.strikes)).toContain(pin);
      }),
      { numRuns: 200 },
    );
  });

  it('the order they were told in does not matter', () => {
    fc.assert(
      fc.property(anyTake, take => {
        const times = new Set(take.strikes.map(s => s.at));
        if (times.size < take.strikes.length) return;
        const sounds = (t: Take): unknown =>
          cleanTake(t).events.map(e => e.strikes.map(i => [t.strikes[i]?.at, t.strikes[i]?.pitch]));
        expect(sounds(takeOf([...take.strikes].reverse()))).toEqual(sounds(take));
      }),
    );
  });
});

describe('chords', () => {
  const groups = (take: Take, window?: number): number[][] =>
    cleanTake(take, window === undefined ? undefined : () => window).events.map(e => [...e.strikes]);

  it('count from their first stroke, by the window asked for', () => {
    expect(groups(struck([0, 60, 80], [29, 62, 80], [31, 64, 80]))).toEqual([[0, 1], [2]]);
    expect(groups(struck([0, 60, 80], [25, 62, 80]), 0.02)).toEqual([[0], [1]]);
    expect(groups(struck([0, 60, 80], [45, 62, 80]), 0.05)).toEqual([[0, 1]]);
  });

  it('end when the last of their notes is let go, the latency taken off', () => {
    const [event] = cleanTake(
      takeOf(
        [
          { at: 1, pitch: 60, velocity: 80, until: 1.5 },
          { at: 1.01, pitch: 64, velocity: 80, until: 1.9 },
        ],
        20,
      ),
    ).events;
    expect([event?.at, event?.until]).toEqual([expect.closeTo(0.985, 9), expect.closeTo(1.88, 9)]);
    expect(cleanTake(struck([0, 60, 80])).events[0]).not.toHaveProperty('until');
  });

  it('a time that is no number is left out', () => {
    expect(
      groups(
        takeOf([
          { at: NaN, pitch: 60, velocity: 80 },
          { at: 1, pitch: 60, velocity: 80 },
        ]),
      ),
    ).toEqual([[1]]);
  });

  // A drag has two soft strokes before a loud one, a ruff three (common practice, no source).
  it('two soft blows before a loud one are a drag, three a ruff, and a fourth is a note', () => {
    const blows = (count: number): [number, number, number][] =>
      Array.from({ length: count }, (_, i) => [i * 45, 60, i === count - 1 ? 100 : 40 + 4 * i]);
    const gracesOf = (count: number): unknown => [...cleanTake(struck(...blows(count))).graces];
    expect(gracesOf(3)).toEqual([[2, [0, 1]]]);
    expect(gracesOf(4)).toEqual([[3, [0, 1, 2]]]);
    expect(gracesOf(5)).toEqual([[4, [1, 2, 3]]]);
    // A stroke on another bar between them stays a note.
    const between = cleanTake(struck([0, 60, 30], [25, 60, 50], [35, 64, 90], [50, 60, 100]));
    expect([between.graces.get(3), between.events.flatMap(e => e.strikes)]).toEqual([
      [0, 1],
      [3, 2],
    ]);
    // However much each is louder than the one before.
    expect([...cleanTake(struck([0, 60, 30], [25, 60, 50], [50, 60, 100])).graces]).toEqual([[2, [0, 1]]]);
    // Too far before, or as loud: a note and a flam.
    expect([...cleanTake(struck([0, 60, 40], [80, 60, 40], [125, 60, 100])).graces]).toEqual([[2, [1]]]);
    expect([...cleanTake(struck([0, 60, 90], [45, 60, 40], [90, 60, 100])).graces]).toEqual([[2, [1]]]);
    expect(cleanTake(struck(...blows(3)), undefined, new Set([0])).graces.get(2)).toEqual([1]);
  });
});
