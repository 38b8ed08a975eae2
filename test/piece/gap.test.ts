import { describe, expect, it } from 'vitest';
import { fraction, show } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { type Metre, metre } from '../../core/foundation/metre.ts';
import { type BarRange, gapAfter, motifOfReading } from '../../core/piece/motifOfReading.ts';
import { firstPlan } from '../../core/plan/plan.ts';
import { notesOfStatement } from '../../core/plan/statement.ts';
import type { Reading } from '../../core/reading/model/reading.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';

const C = key('C');
/** Notes one after the other, lengths in quavers, the first so many quavers before the barline. */
const lineOf = (m: Metre, quavers: readonly number[], upbeat = 0): Reading => {
  let at = -upbeat;
  const notes = quavers.map((length, strike) => {
    const onset = fraction(at, 8);
    at += length;
    return { onset, duration: fraction(length, 8), pitch: 60 + 2 * strike, strike, doubt: 0 };
  });
  return {
    metre: m,
    tempo: 100,
    upbeat: fraction(upbeat, 8),
    grid: 'automatic',
    notes,
    dropped: [],
    misfit: 0,
    confidence: 1,
    reason: '',
    beats: [0, 1],
    firstBeat: 0,
  };
};
const onsets = (reading: Reading, range: BarRange, times: number): readonly string[] => {
  const motif = motifOfReading(reading, C, range);
  const [one] = firstPlan('xylophone', 100).statements;
  return one === undefined ? [] : notesOfStatement(motif, { ...one, times }).map(n => show(n.onset));
};

describe('repeats of an idea that ends before its barline', () => {
  const three = lineOf(metre(4, 4), [2, 2, 2]);
  const bar = { from: 1, to: 1 };

  it('wait for the barline, or follow straight on and shift across the bar', () => {
    expect(show(gapAfter(three, C, bar))).toBe('1/4');
    expect(onsets(three, bar, 2)).toEqual(['0', '1/4', '1/2', '1', '5/4', '3/2']);
    expect(onsets(three, { ...bar, joined: true }, 4).slice(3)).toEqual([
      '3/4',
      '1',
      '5/4',
      '3/2',
      '7/4',
      '2',
      '9/4',
      '5/2',
      '11/4',
    ]);
  });

  it('meet the barline again after as many bars as the idea has beats', () => {
    // The least common multiple of 3 and 4, of 5 and 4 beats: three and five bars of 4/4.
    const five = lineOf(metre(4, 4), [2, 2, 2, 2, 2]);
    expect(onsets(three, { ...bar, joined: true }, 5)[12]).toBe('3');
    expect(onsets(five, { from: 1, to: 2, joined: true }, 5)[20]).toBe('5');
    expect(show(gapAfter(five, C, { from: 1, to: 2 }))).toBe('3/4');
  });

  it.each([
    ['a bar that is filled', metre(4, 4), [2, 2, 2, 2], 0, '0', '1'],
    ['a rest that fills its beat', metre(4, 4), [2, 2, 2, 1], 0, '0', '1'],
    ['a short last note', metre(4, 4), [2, 1], 0, '1/2', '1/2'],
    ['an upbeat', metre(4, 4), [2, 2, 2, 2], 2, '0', '1'],
    ['an upbeat and a rest', metre(4, 4), [2, 2, 2], 2, '1/4', '3/4'],
    ['dotted beats', metre(6, 8), [1, 1, 1], 0, '3/8', '3/8'],
    ['beats of unequal length', metre(5, 8), [2, 1], 0, '1/4', '3/8'],
    ['seven quavers, two beats', metre(7, 8), [2, 1], 0, '3/8', '1/2'],
    ['minims', metre(2, 2), [2, 2], 0, '1/2', '1/2'],
  ] as const)('%s', (_, m, quavers, upbeat, gap, length) => {
    const range = { from: upbeat > 0 ? 0 : 1, to: 1 };
    const reading = lineOf(m, quavers, upbeat);
    expect(show(gapAfter(reading, C, range))).toBe(gap);
    expect(show(motifOfReading(reading, C, { ...range, joined: true }).length)).toBe(length);
  });

  it('are written across the barline, beats shown', () => {
    const motif = motifOfReading(three, C, { ...bar, joined: true });
    const plan = firstPlan('xylophone', 100);
    const score = scoreOfPlan(
      motif,
      { ...plan, statements: plan.statements.map(s => ({ ...s, times: 4 })) },
      '',
      '',
    );
    expect(score.barCount).toBe(3);
    expect(score.parts[0]?.bars.map(b => b.symbols.length)).toEqual([4, 4, 4]);
  });

  it('bars without notes leave one beat', () => {
    expect(show(motifOfReading(lineOf(metre(4, 4), []), C, { ...bar, joined: true }).length)).toBe('1/4');
  });
});
