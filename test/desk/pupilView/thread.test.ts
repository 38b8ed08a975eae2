import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { motifOf } from '../../../core/piece/piece.ts';
import { PUPIL_CARDS } from '../../../renderer/views/pupil/pupilCards.ts';
import { type Knot, threadPath, threadPicture } from '../../../renderer/views/pupil/thread.ts';
import { anyTake } from '../../laws/anyTake.ts';
import { pieceOf } from '../pieces.ts';

const motif = motifOf(pieceOf());
const pictureOf = (id: string) => {
  const card = PUPIL_CARDS.find(c => c.id === id);
  if (card === undefined) throw new Error(id);
  return threadPicture(motif, card);
};
const steps = (knots: readonly Knot[]): readonly number[] =>
  knots.slice(1).map(({ y }, i) => Math.round(((knots[i]?.y ?? 0) - y) * 100) / 100 + 0);
const gaps = (knots: readonly Knot[]): readonly number[] =>
  knots.slice(1).map(({ x }, i) => x - (knots[i]?.x ?? 0));

describe('a tune as a thread', () => {
  it('rises to the right as the tune does, a knot a note', () => {
    const { tune } = pictureOf('again');
    expect(tune).toHaveLength(6);
    // C D E F G C: one step each, then a fourth.
    const [first = 0, ...rest] = steps(tune);
    expect(first).toBeGreaterThan(0);
    expect(rest.map(s => Math.round(s / first))).toEqual([1, 1, 1, 3]);
  });

  it('turned over goes down where it went up; back to front begins with the last', () => {
    const over = pictureOf('upside-down');
    expect(steps(over.made)).toEqual(steps(over.tune).map(s => -s + 0));
    const back = pictureOf('backwards');
    expect(steps(back.made)).toEqual(
      steps(back.tune)
        .map(s => -s + 0)
        .reverse(),
    );
  });

  it('slow takes twice the room, fast half of it; a canon enters under the tune and later', () => {
    const ratio = (id: string): number => {
      const { tune, made } = pictureOf(id);
      return (gaps(made)[0] ?? 0) / (gaps(tune)[0] ?? 1);
    };
    expect(ratio('slow')).toBeCloseTo(2);
    expect(ratio('fast')).toBeCloseTo(0.5);
    const canon = pictureOf('canon');
    expect(canon.made[0]?.x).toBeGreaterThan(canon.tune[0]?.x ?? 0);
    expect(Math.min(...canon.made.map(k => k.y))).toBeGreaterThan(Math.max(...canon.tune.map(k => k.y)));
    const together = pictureOf('together');
    expect(together.made.map(k => k.x)).toEqual(together.tune.map(k => k.x));
    expect(together.made[0]?.y).toBeLessThan(together.tune[0]?.y ?? 0);
  });

  it('law: whatever was played, every knot lies in its picture', () => {
    fc.assert(
      fc.property(anyTake, fc.constantFrom(...PUPIL_CARDS), (take, card) => {
        const { width, height, tune, made } = threadPicture(motifOf(pieceOf(take)), card);
        for (const { x, y } of [...tune, ...made]) {
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x).toBeLessThanOrEqual(width);
          expect(y).toBeGreaterThanOrEqual(0);
          expect(y).toBeLessThanOrEqual(height);
        }
      }),
      { numRuns: 80, seed: 14 },
    );
  });

  it('is drawn through its knots, and of one note or none', () => {
    expect(threadPath([])).toBe('');
    expect(threadPath([{ x: 1, y: 2 }])).toBe('M1.0 2.0');
    expect(
      threadPath([
        { x: 0, y: 0 },
        { x: 10, y: 4 },
      ]),
    ).toBe('M0.0 0.0 C5.0 0.0 5.0 4.0 10.0 4.0');
  });
});
