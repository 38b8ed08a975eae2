import { describe, expect, it } from 'vitest';
import { fraction, ZERO } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { triedFrom } from '../../renderer/views/grow/triedFrom.ts';

const motif = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [] };
const kept: Plan = firstPlan('xylophone', 90);

describe('where what is tried begins', () => {
  it('is where a new statement does, whatever else it brought', () => {
    const second = { id: 's2', part: 'p1', onset: fraction(3), chain: [], times: 1 };
    const tried: Plan = {
      ...kept,
      statements: [...kept.statements, second],
      letters: [{ bar: 1, letter: 'A' }],
    };
    expect(triedFrom(motif, kept, tried, 's2')).toEqual({
      holds: fraction(3),
      heard: fraction(3),
      isStatement: true,
    });
  });

  it('is where a statement stands that was changed, and the beginning where it is gone', () => {
    const tried = { ...kept, statements: kept.statements.map(s => ({ ...s, onset: fraction(2), times: 2 })) };
    expect(triedFrom(motif, kept, tried, 's1').heard).toEqual(fraction(2));
    expect(triedFrom(motif, kept, tried, 'gone')).toEqual({ holds: ZERO, heard: ZERO, isStatement: true });
  });

  it('is the bar of a change of metre, heard from the bar before, each as long as its metre', () => {
    const tried: Plan = {
      ...kept,
      metres: [
        { bar: 2, metre: metre(3, 4) },
        { bar: 4, metre: metre(6, 8) },
      ],
    };
    const from = (before: Plan) => triedFrom(motif, before, tried, 's1');
    expect(from(kept)).toEqual({ holds: fraction(2), heard: fraction(1), isStatement: false });
    // Two bars of 4/4 and two of 3/4; the bar before is one of 3/4.
    const half: Plan = { ...kept, metres: [{ bar: 2, metre: metre(3, 4) }] };
    expect(from(half)).toEqual({ holds: fraction(7, 2), heard: fraction(11, 4), isStatement: false });
  });

  it('is the beginning where the first bar changes', () => {
    const tried: Plan = { ...kept, letters: [{ bar: 0, letter: 'A' }] };
    expect(triedFrom(motif, kept, tried, 's1')).toEqual({ holds: ZERO, heard: ZERO, isStatement: false });
  });
});
