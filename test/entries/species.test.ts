import { describe, expect, it } from 'vitest';
import { hear, type Sounding } from '../../core/entries/hear.ts';

describe('second and fourth species (Fux, Gradus ad Parnassum, 1725)', () => {
  // Ticks of a crotchet, in 4/4 with two minims against a semibreve: 4 the barline, 3 the half bar.
  const weightOf = (at: number): number => (at % 4 === 0 ? 4 : at % 4 === 2 ? 3 : 2);
  const linear = (length: number, pitches: readonly number[], first = 0): Sounding[] =>
    pitches.map((pitch, i) => ({ from: first + i * length, to: first + (i + 1) * length, pitch }));
  const CANTUS = linear(4, [60, 60]);
  const heardOver = (above: readonly Sounding[]) => hear(above, [CANTUS], weightOf, 1);

  it('a dissonance on the weak minim is a passing note where it goes on by step', () => {
    expect(heardOver(linear(2, [64, 65, 67, 69])).clashes).toEqual([]);
    // E D C: the second between two steps down.
    expect(heardOver(linear(2, [64, 62, 60, 64])).clashes).toEqual([]);
  });
  it('it clashes where it is left by leap, turns back, or falls on the strong minim', () => {
    expect(heardOver(linear(2, [64, 62, 67, 64])).clashes).toEqual([2]);
    expect(heardOver(linear(2, [64, 62, 64, 67])).clashes).toEqual([2]);
    expect(heardOver(linear(2, [60, 64, 62, 60])).clashes).toEqual([4]);
  });
  it('a seventh held over from a consonance and falling a step is a suspension; struck anew it clashes', () => {
    // C over A, held while A falls to D: a seventh, that falls to B, a sixth.
    const below = linear(4, [57, 62]);
    const tied: Sounding[] = [
      { from: 0, to: 2, pitch: 69 },
      { from: 2, to: 6, pitch: 72 },
      { from: 6, to: 8, pitch: 71 },
    ];
    expect(hear(tied, [below], weightOf, 1).clashes).toEqual([]);
    const anew = tied.flatMap(n =>
      n.pitch === 72
        ? [
            { ...n, to: 4 },
            { ...n, from: 4 },
          ]
        : [n],
    );
    expect(hear(anew, [below], weightOf, 1).clashes).toEqual([4]);
    const leaping = tied.map(n => (n.pitch === 71 ? { ...n, pitch: 69 } : n));
    expect(hear(leaping, [below], weightOf, 1).clashes).toEqual([4]);
  });
  it('parallel fifths cost; octaves all along are doubling and cost nothing', () => {
    const base = linear(2, [60, 62, 64, 65]);
    const at = (by: number) =>
      hear(
        base.map(n => ({ ...n, pitch: n.pitch + by })),
        [base],
        weightOf,
        1,
      );
    expect(at(12)).toMatchObject({ score: 0, doubling: 1 });
    expect(at(7).score).toBeLessThan(0.5);
    // One octave after another, and thirds round them: not doubling, but a mistake.
    const pair = [64, 62, 64, 69].map((pitch, i) => ({ ...(base[i] as Sounding), pitch: pitch + 12 }));
    // By hand: thirds on the barline (4) and half bar (3), octaves between, of 14 in all; one fault in 8 beats.
    expect(hear(pair, [base], weightOf, 1).score).toBeCloseTo((0.95 * (4 + 3)) / 14 - 0.3 / 8, 10);
  });
  it('law: an idea twice as long is heard as it is once', () => {
    const base = linear(1, [60, 62, 64, 65, 67, 60, 62, 67]);
    const other = linear(1, [67, 64, 62, 60, 64, 65, 69, 72]);
    const twice = (line: readonly Sounding[]) => [
      ...line,
      ...line.map(n => ({ ...n, from: n.from + 8, to: n.to + 8 })),
    ];
    const [once, double] = [hear(base, [other], weightOf, 1), hear(twice(base), [twice(other)], weightOf, 1)];
    expect(Math.abs(once.score - double.score)).toBeLessThan(0.1);
    expect(double.clashes.length).toBeGreaterThan(once.clashes.length);
  });
});
