import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestInOrder } from '../../core/rehearse/align.ts';

const REACH = 0.3;
const times = (most: number): fc.Arbitrary<number[]> =>
  fc
    .array(fc.integer({ min: 0, max: 60 }), { maxLength: most })
    .map(all => all.sort((a, b) => a - b).map(n => n / 20));

/** Every way to pair two rows in order, tried. */
const bestOf = (written: readonly number[], played: readonly number[]): number => {
  const [w] = written;
  const [p] = played;
  if (w === undefined || p === undefined) return 0;
  const gain = REACH - Math.abs(w - p);
  return Math.max(
    bestOf(written.slice(1), played),
    bestOf(written, played.slice(1)),
    gain > 0 ? gain + bestOf(written.slice(1), played.slice(1)) : 0,
  );
};

describe('two rows paired in order', () => {
  it('lie as near as any pairing does', () => {
    fc.assert(
      fc.property(times(5), times(5), (written, played) => {
        const pairs = nearestInOrder(written, played, REACH);
        const worth = pairs.reduce(
          (so, [i, j]) => so + REACH - Math.abs((written[i] ?? 0) - (played[j] ?? 0)),
          0,
        );
        expect(worth).toBeCloseTo(bestOf(written, played), 9);
        pairs.forEach(([i, j], k) => {
          const [before, behind] = pairs[k - 1] ?? [-1, -1];
          expect(i).toBeGreaterThan(before);
          expect(j).toBeGreaterThan(behind);
        });
      }),
    );
  });

  it('ten times as many strokes are ten times the work, not a hundred', () => {
    const work = (count: number): number => {
      const row = Array.from({ length: count }, (_, i) => i * 0.12);
      let asked = 0;
      nearestInOrder(row, row, REACH, (i, j) => {
        asked += 1;
        return REACH - Math.abs((row[i] ?? 0) - (row[j] ?? 0));
      });
      return asked;
    };
    expect(work(4000) / work(400)).toBeLessThan(11);
  });
});
