import { describe, expect, it } from 'vitest';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import type { BarIndex } from '../../core/foundation/units.ts';
import { type Plan, firstPlan } from '../../core/plan/plan.ts';
import { changedBar } from '../../renderer/views/grow/changedBar.ts';

const base: Plan = { ...firstPlan('xylophone', 90), letters: [{ bar: 4, letter: 'A' }] };

describe('the bar from which what is tried holds', () => {
  it('is the first where a letter, tempo, key or metre came, went, or is another', () => {
    expect(changedBar(base, base)).toBeUndefined();
    const metres = [{ bar: 8 as BarIndex, metre: metre(3, 4) }];
    expect(changedBar(base, { ...base, metres })).toBe(8);
    expect(changedBar({ ...base, metres }, base)).toBe(8);
    expect(changedBar({ ...base, metres }, { ...base, metres: [{ bar: 8, metre: metre(6, 8) }] })).toBe(8);
    expect(changedBar(base, { ...base, metres, tempi: [{ bar: 6, tempo: 120 }] })).toBe(6);
    expect(changedBar(base, { ...base, keys: [{ bar: 2, signature: key('D') }] })).toBe(2);
    expect(changedBar(base, { ...base, letters: [] })).toBe(4);
  });

  it('does not depend on what is no change of a bar', () => {
    expect(changedBar(base, { ...base, tempo: 120, nextId: 9, statements: [] })).toBeUndefined();
  });
});
