import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cleanTake } from '../../core/take/clean.ts';
import { drawnLines, wholeLine } from '../../core/take/glissandi.ts';
import { quickStrokes } from '../../core/take/quickStrokes.ts';
import type { Take } from '../../core/take/take.ts';

/** Strikes by milliseconds, pitch and velocity. */
const struck = (...all: readonly (readonly [number, number, number?])[]): Take => ({
  id: 't',
  capturedAt: '',
  source: 'midi',
  from: '',
  latency: 0,
  lengthsMean: false,
  strikes: all.map(([ms, pitch, velocity = 80]) => ({ at: ms / 1000, pitch, velocity })),
});
/** These bars, so many milliseconds apart. */
const drawn = (from: number, gap: number, bars: readonly number[]): [number, number][] =>
  bars.map((pitch, i) => [from + i * gap, pitch]);
const WHITE = [60, 62, 64, 65, 67, 69, 71, 72];
const BOTH_ROWS = [60, 61, 62, 63, 64, 65, 66, 67];
const FIVE = [60, 62, 64, 67, 69, 72, 74];
const all = (bars: readonly number[]): number[] => bars.map((_, i) => i);

// A mallet drawn over the bars strikes some 15 to 60 of them a second (common practice, no source).
describe('strokes that may be drawn over neighbouring bars', () => {
  it.each([17, 25, 40, 55, 66])('one bar every %d ms, up and down, on every kind of set', gap => {
    for (const bars of [WHITE, BOTH_ROWS, FIVE])
      for (const way of [bars, [...bars].reverse()])
        expect(drawnLines(struck(...drawn(0, gap, way)))).toEqual([{ strokes: all(bars) }]);
  });

  it('a scale as fast as hands strike is none, nor are a few notes, a chord or an arpeggio', () => {
    for (const gap of [70, 83, 125]) expect(drawnLines(struck(...drawn(0, gap, WHITE)))).toEqual([]);
    expect(drawnLines(struck(...drawn(0, 30, WHITE.slice(0, 4))))).toEqual([]);
    expect(drawnLines(struck(...drawn(0, 55, WHITE.slice(0, 5))))).toEqual([]);
    expect(drawnLines(struck(...drawn(0, 30, WHITE.slice(0, 5))))).toHaveLength(1);
    expect(drawnLines(struck(...drawn(0, 4, WHITE)))).toEqual([]);
    expect(drawnLines(struck(...drawn(0, 30, [60, 64, 67, 72, 76, 79])))).toEqual([]);
    expect(drawnLines(struck(...drawn(0, 30, [60, 64, 62, 65, 64, 67, 65])))).toEqual([]);
  });

  it('what is struck before and after a line is none of it', () => {
    const take = struck([0, 59], ...drawn(400, 40, WHITE), [1100, 74]);
    expect(drawnLines(take)).toEqual([{ strokes: [1, 2, 3, 4, 5, 6, 7, 8] }]);
    // As soon after the last bar as the longest gap of a line, but far longer than its own.
    expect(drawnLines(struck(...drawn(0, 30, WHITE), [300, 74]))).toEqual([{ strokes: all(WHITE) }]);
  });

  it('a last stroke that is louder is a note of its own, and so is one that was put somewhere, or is rolled', () => {
    const bars = drawn(0, 40, WHITE);
    const target = { strokes: all(WHITE).slice(0, -1), target: 7 };
    const louder = bars.map(([ms, pitch], i) => [ms, pitch, i === 7 ? 100 : 80] as const);
    expect(drawnLines(struck(...louder))).toEqual([target]);
    expect(drawnLines(struck(...bars), new Set([7]))).toEqual([target]);
    const roll = Array.from({ length: 6 }, (_, i): [number, number] => [280 + 80 * (i + 1), 72]);
    expect(quickStrokes(struck(...bars, ...roll))).toEqual({
      rolls: [[7, 8, 9, 10, 11, 12, 13]],
      lines: [target],
    });
    // The note it begins with may be as loud as it likes.
    const first = bars.map(([ms, pitch], i) => [ms, pitch, i === 0 ? 120 : 80] as const);
    expect(drawnLines(struck(...first))).toEqual([{ strokes: all(WHITE) }]);
  });

  it('a stroke on the way that was written as a note of its own leaves none', () => {
    expect(drawnLines(struck(...drawn(0, 40, WHITE)), new Set([4]))).toEqual([]);
    expect(drawnLines(struck(...drawn(0, 40, WHITE)), new Set([0]))).toHaveLength(1);
  });

  it('one that turns is two lines, the first of which leads to the bar where it turns', () => {
    const bars = [...WHITE, ...[...WHITE].reverse().slice(1)];
    expect(drawnLines(struck(...drawn(0, 40, bars)))).toEqual([
      { strokes: [0, 1, 2, 3, 4, 5, 6], target: 7 },
      { strokes: [7, 8, 9, 10, 11, 12, 13, 14] },
    ]);
  });
});

const anyTake = fc
  .array(
    fc.record({
      gap: fc.oneof(
        { weight: 9, arbitrary: fc.integer({ min: 8, max: 70 }) },
        fc.integer({ min: 90, max: 900 }),
      ),
      step: fc.oneof({ weight: 9, arbitrary: fc.constantFrom(1, 2, 2, 3) }, fc.constantFrom(-20, -12, -2, 0)),
      velocity: fc.integer({ min: 20, max: 120 }),
    }),
    { minLength: 20, maxLength: 40 },
  )
  .map(steps => {
    let at = 0;
    let pitch = 60;
    return struck(
      ...steps.map(
        s => [(at += s.gap), (pitch = 30 + ((pitch - 30 + s.step + 90) % 90)), s.velocity] as const,
      ),
    );
  });

describe('of any take', () => {
  it('no strike is lost: each is a note, a grace note, dropped, or a stroke of a sign', () => {
    let lines = 0;
    fc.assert(
      fc.property(anyTake, take => {
        const quick = quickStrokes(take);
        const own = [...quick.rolls, ...quick.lines.map(line => line.strokes)].flat();
        expect(new Set(own).size).toBe(own.length);
        const { events, dropped, graces, ...signs } = cleanTake(take, undefined, undefined, undefined, quick);
        const notes = events.flatMap(e => e.strikes);
        const later = [...signs.rolls.values(), ...[...signs.lines.values()].map(l => l.strokes)].flatMap(s =>
          s.slice(1),
        );
        const found = [...notes, ...dropped, ...[...graces.values()].flat(), ...later];
        expect([...found].sort((a, b) => a - b)).toEqual(take.strikes.map((_, i) => i));
        for (const [first, line] of signs.lines) {
          expect(notes).toContain(first);
          const pitches = wholeLine(line).map(i => take.strikes[i]?.pitch ?? 0);
          const steps = pitches.slice(1).map((p, i) => p - (pitches[i] ?? 0));
          expect(new Set(steps.map(Math.sign)).size).toBe(1);
          expect(steps.every(s => Math.abs(s) >= 1 && Math.abs(s) <= 3)).toBe(true);
        }
        lines += quick.lines.length;
      }),
      { numRuns: 400 },
    );
    expect(lines).toBeGreaterThan(100);
  });
});
