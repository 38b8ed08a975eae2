import { describe, expect, it } from 'vitest';
import { fraction, show } from '../../core/foundation/fraction.ts';
import { key, toScale } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import { notesOf } from '../../core/playback/perform.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';
import { isReadable, isWrittenExactly } from '../../core/score/writable.ts';

const C = key('C');
/** A bar of 4/4 from its onsets, in 48ths of it. */
const bar = (...onsets: readonly number[]): Motif => ({
  key: C,
  metre: metre(4, 4),
  length: fraction(1),
  notes: onsets.map((at, i) => ({
    onset: fraction(at, 48),
    duration: fraction((onsets[i + 1] ?? 48) - at, 48),
    ...toScale(C, 72 + (i % 3)),
  })),
});
/** Semiquavers and quavers, then a quaver triplet and a crotchet. */
const MIXED = bar(0, 3, 6, 12, 18, 24, 28, 32, 36);
/** Four semiquavers, then a quaver triplet: three times as fast, both lie inside thirds of one beat. */
const NESTED = bar(0, 3, 6, 9, 12, 16, 20, 24);

const faster = (motif: Motif, factor: number): { score: Score; wanted: string[] } => {
  const plan = firstPlan('xylophone', 60);
  const statements = plan.statements.map(s => ({
    ...s,
    chain: [{ kind: 'diminish' as const, factor: fraction(factor) }],
  }));
  return {
    score: scoreOfPlan(motif, { ...plan, statements }, '', ''),
    wanted: statements
      .flatMap(s => notesOfStatement(motif, s))
      .map(n => `${show(n.onset)}+${show(n.duration)}`),
  };
};
const heard = (score: Score): string[] =>
  score.parts.flatMap(part => notesOf(part, score.upbeat)).map(n => `${show(n.onset)}+${show(n.duration)}`);

describe('diminution of a bar of straight and triplet beats', () => {
  it('twice, three and four times as fast, each note is still written where it belongs', () => {
    for (const factor of [1, 2, 3, 4]) {
      const { score, wanted } = faster(MIXED, factor);
      expect(heard(score)).toEqual(wanted);
      expect(isWrittenExactly(score)).toBe(true);
    }
  });

  it('a triplet inside a third of a beat cannot be written, and that is known', () => {
    const { score, wanted } = faster(NESTED, 3);
    expect(heard(score)).not.toEqual(wanted);
    expect(isWrittenExactly(score)).toBe(false);
  });
});

describe('diminution nobody can read', () => {
  it('nine in the time of eight is exact, but not readable; a triplet at its own speed is', () => {
    // Nine equal notes in a bar of 4/4 twice as fast: nine in two beats.
    const nine: Motif = {
      ...bar(0),
      notes: Array.from({ length: 9 }, (_, i) => ({
        onset: fraction(i, 9),
        duration: fraction(1, 9),
        ...toScale(C, 72 + (i % 3)),
      })),
    };
    expect(isReadable(faster(nine, 4).score)).toBe(false);
    expect(isReadable(faster(MIXED, 1).score)).toBe(true);
  });
});
