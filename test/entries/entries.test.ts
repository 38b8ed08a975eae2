import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { equal, fraction, type Fraction, show, ZERO } from '../../core/foundation/fraction.ts';
import { key, toScale } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { consonance, intervalClass } from '../../core/entries/consonance.ts';
import { delaysOf, ENTRY_CHANGES, type Entry, entriesFor } from '../../core/entries/entries.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { IDEA } from '../plan/motifs.ts';

const C = key('C');
const tune = (notes: readonly (readonly [crotchets: number, pitch: number])[]): Motif => {
  let at = 0;
  const made = notes.map(([crotchets, pitch]) => {
    const note = { onset: fraction(at, 8), duration: fraction(crotchets * 2, 8), ...toScale(C, pitch) };
    at += crotchets * 2;
    return note;
  });
  return { key: C, metre: metre(4, 4), length: fraction(at, 8), notes: made };
};
const find = (all: readonly Entry[], delay: Fraction, steps: number, change = 'plain'): Entry => {
  const found = all.find(e => equal(e.delay, delay) && e.steps === steps && e.change === change);
  if (found === undefined) throw new Error('no such entry');
  return found;
};
const entriesOf = (motif: Motif, plan: Plan, halves = false): readonly Entry[] => {
  const [leader] = plan.statements;
  if (leader === undefined) throw new Error('no leader');
  return entriesFor(motif, plan, leader, 'xylophone', undefined, { halves, changes: ENTRY_CHANGES });
};

describe('consonance of two notes', () => {
  it('is Huron’s by interval class (Huron 1994, Music Perception 11(3))', () => {
    expect([61, 62, 63, 64, 65, 66].map(p => consonance(60, p))).toEqual([
      -1.428, -0.582, 0.594, 0.386, 1.24, -0.453,
    ]);
    // The same for an interval, its inversion and either an octave wider.
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 127 }), fc.integer({ min: 0, max: 127 }), (a, b) => {
        expect(intervalClass(a, b)).toBe(intervalClass(b, a));
        expect(consonance(a, b)).toBe(consonance(a + 12, b));
      }),
    );
  });
});

describe('Frère Jacques (traditional): a round at two bars', () => {
  // C D E C twice, E F G twice, quavers G A G F crotchets E C twice, C G₃ C twice (traditional).
  const jacques = tune([
    ...[1, 2].flatMap(
      () =>
        [
          [1, 72],
          [1, 74],
          [1, 76],
          [1, 72],
        ] as const,
    ),
    ...[1, 2].flatMap(
      () =>
        [
          [1, 76],
          [1, 77],
          [2, 79],
        ] as const,
    ),
    ...[1, 2].flatMap(
      () =>
        [
          [0.5, 79],
          [0.5, 81],
          [0.5, 79],
          [0.5, 77],
          [1, 76],
          [1, 72],
        ] as const,
    ),
    ...[1, 2].flatMap(
      () =>
        [
          [1, 72],
          [1, 67],
          [2, 72],
        ] as const,
    ),
  ]);
  const all = entriesOf(jacques, firstPlan('xylophone', 100));
  it('two bars later at the unison sounds smooth, mostly thirds, sixths and unisons', () => {
    const round = find(all, fraction(2), 0);
    expect(round.score).toBeGreaterThan(0.2);
    expect(round.sentence).toMatch(/thirds and sixths|unisons and octaves/);
  });
  it('is among the best fifth of all plain entries, and the best but thirds and sixths at its delay', () => {
    const plain = all.filter(e => e.change === 'plain' && e.together > 0.4);
    const round = find(all, fraction(2), 0);
    expect(plain.filter(e => e.score > round.score).length).toBeLessThan(plain.length / 5);
  });
  it('the map of its eight bars differs from entry to entry, and few entries lie at its end', () => {
    const sounding = all.filter(e => e.together > 0);
    const scores = new Set(sounding.map(e => e.score.toFixed(6)));
    expect(scores.size).toBeGreaterThan(sounding.length / 2);
    expect(sounding.filter(e => Math.abs(e.score) === 1).length).toBeLessThan(sounding.length / 20);
  });
  it('so does the map of one bar', () => {
    const one = entriesOf(IDEA, firstPlan('xylophone', 90)).filter(e => e.together > 0);
    expect(new Set(one.map(e => e.score.toFixed(6))).size).toBeGreaterThan(one.length / 3);
    expect(one.filter(e => Math.abs(e.score) === 1).length).toBeLessThan(one.length / 20);
  });
  it('a step higher at the same delay clashes, and says where', () => {
    const wrong = find(all, fraction(2), 1);
    expect(wrong.score).toBeLessThan(find(all, fraction(2), 0).score);
    expect(wrong.sentence).toMatch(/clashes on beat \d of bar \d/);
  });
});

describe('the map', () => {
  const plan = firstPlan('xylophone', 90);
  it('has every delay by beat up to the idea’s length, by -7 to 7 steps, in four ways', () => {
    expect(delaysOf(IDEA, plan, plan.statements[0] as never, false)).toEqual(
      [0, 1, 2, 3, 4].map(k => fraction(k, 4)),
    );
    expect(entriesOf(IDEA, plan)).toHaveLength(5 * 15 * 4);
    expect(entriesOf(IDEA, plan, true)).toHaveLength(9 * 15 * 4);
  });
  it('weighs and tells beats by the metre in force', () => {
    // The same waltz from the beginning, and from the second bar of a piece that begins in 4/4.
    const notes = tune([
      [1, 72],
      [1, 74],
      [1, 76],
      [1, 77],
      [1, 74],
      [1, 71],
    ]);
    const waltz: Motif = { ...notes, metre: metre(3, 4) };
    const later: Plan = {
      ...plan,
      metres: [{ bar: 1, metre: metre(3, 4) }],
      statements: plan.statements.map(s => ({ ...s, onset: fraction(1) })),
    };
    const told = (all: readonly Entry[], by: number) =>
      all.map(e => [
        show(e.delay),
        e.steps,
        e.change,
        e.score.toFixed(6),
        e.clashes.map(c => [c.bar + by, c.beat]),
      ]);
    expect(told(entriesOf({ ...notes, metre: metre(4, 4) }, later), 0)).toEqual(
      told(entriesOf(waltz, plan), 1),
    );
  });
  it('between the beats, entries lie on quavers where a beat has three, and on halves elsewhere', () => {
    const delays = (motif: Motif): string[] =>
      delaysOf(motif, plan, plan.statements[0] as never, true).map(show);
    expect(delays({ ...IDEA, metre: metre(6, 8), length: fraction(3, 4) })).toEqual([
      '0',
      '1/8',
      '1/4',
      '3/8',
      '1/2',
      '5/8',
      '3/4',
    ]);
    expect(delays({ ...IDEA, metre: metre(5, 8), length: fraction(5, 8) })).toEqual([
      '0',
      '1/8',
      '1/4',
      '3/8',
      '1/2',
      '5/8',
    ]);
    expect(delays({ ...IDEA, metre: metre(2, 2), length: fraction(1) })).toEqual([
      '0',
      '1/4',
      '1/2',
      '3/4',
      '1',
    ]);
  });
  it('a unison at once is doubling, neither good nor bad; thirds at once stand before it', () => {
    const all = entriesOf(IDEA, plan);
    const unison = find(all, ZERO, 0);
    expect(unison.together).toBe(1);
    expect([unison.doubling, unison.score]).toEqual([1, 0]);
    expect(unison.sentence).toBe('doubling: the same notes, or octaves of them');
    // Thirds, then open fifths, then doubling (Fux: imperfect consonances before perfect).
    const [thirds, fifths] = [2, 4].map(steps => find(all, ZERO, steps).score);
    expect(thirds).toBeGreaterThan(fifths ?? 1);
    expect(find(all, ZERO, 7).score).toBe(0);
    expect(find(all, ZERO, 2).sentence).toBe('nearly all thirds and sixths; no clashes on the beats');
    expect(find(all, ZERO, 1).clashes.length).toBeGreaterThan(0);
  });
  it('parallel octaves and fifths cost: a fifth moved along scores under the same fifth standing', () => {
    const moving = tune([
      [1, 60],
      [1, 62],
      [1, 64],
      [1, 65],
    ]);
    const standing = tune([
      [1, 60],
      [1, 60],
      [1, 60],
      [1, 60],
    ]);
    const fifth = (motif: Motif): number => find(entriesOf(motif, plan), ZERO, 4).score;
    expect(fifth(moving)).toBeLessThan(fifth(standing));
  });
  it('a fourth over the lowest note is no consonance', () => {
    const standing = tune([[4, 60]]);
    const all = entriesOf(standing, plan);
    expect(find(all, ZERO, 3).score).toBeLessThan(0);
    expect(find(all, ZERO, 4).score).toBe(0.5);
  });
  it('what falls on the barline weighs more than what falls in the middle of the bar', () => {
    const second = (...notes: readonly (readonly [number, number])[]): Entry =>
      find(entriesOf(tune(notes), plan), ZERO, 1);
    // A step above E lies a semitone, above C a tone; the semitone is rougher (Huron 1994).
    expect(second([2, 64], [2, 60]).score).toBeLessThan(second([2, 60], [2, 64]).score);
    // One clash is told by itself.
    expect(second([4, 60]).sentence).toMatch(/; clashes on beat 1 of bar 1$/);
  });
  it('scores lie between -1 and 1, and what sounds alone says so', () => {
    for (const entry of entriesOf(IDEA, plan, true)) {
      expect(Math.abs(entry.score)).toBeLessThanOrEqual(1);
      expect(entry.together).toBeLessThanOrEqual(1 + 1e-9);
    }
    expect(find(entriesOf(IDEA, plan), fraction(1), 0).sentence).toBe('nothing sounds together here');
  });
  it('does not depend on the place in the piece, by whole bars', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 20 }), bars => {
        const later: Plan = {
          ...plan,
          statements: plan.statements.map(s => ({ ...s, onset: fraction(bars) })),
        };
        expect(entriesOf(IDEA, later).map(e => e.score)).toEqual(entriesOf(IDEA, plan).map(e => e.score));
      }),
    );
  });
});

describe('entries where the key changes', () => {
  it('are heard in the key they are in: what follows into a new key doubles what the leader plays there', () => {
    const [leader] = firstPlan('xylophone', 90).statements;
    if (leader === undefined) throw new Error('no leader');
    const plan: Plan = {
      ...firstPlan('xylophone', 90),
      statements: [{ ...leader, times: 2 }],
      keys: [{ bar: 1, moved: 5 }],
    };
    expect(find(entriesOf(IDEA, plan), fraction(1), 0).doubling).toBe(1);
    expect(find(entriesOf(IDEA, plan), fraction(1), 4).doubling).toBe(0);
  });
});
