import { describe, expect, it } from 'vitest';
import { firstPlan } from '../../core/plan/plan.ts';
import { motifOf } from '../../core/piece/piece.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import { headLineHeight, letterHeight, startsWithLetter } from '../../renderer/page/headLine.ts';
import { type PageOptions, signSize } from '../../renderer/page/options.ts';
import { pieceOf, SCALE } from '../desk/pieces.ts';

const plan = firstPlan('xylophone', 90);
const score = {
  ...scoreOfPlan(motifOf(pieceOf(SCALE)), plan, 'Idea', 'Otter'),
  letters: [
    { bar: 4, letter: 'A' },
    { bar: 6, letter: 'B' },
  ],
};
const line = (first: number, count: number, letterFirst: boolean, signs = 1): number =>
  headLineHeight(score, first, count, { tempo: true, signs, letterFirst });

describe('the line of letters and metronome marks', () => {
  it('is needed for a letter within, but not for one that stands over the clef', () => {
    expect(startsWithLetter(score, 4)).toBe(true);
    expect(startsWithLetter(score, 5)).toBe(false);
    expect(line(4, 2, true)).toBe(0);
    expect(line(4, 2, false)).toBeGreaterThan(0);
    // B stands within, and needs it.
    expect(line(4, 4, true)).toBeGreaterThan(0);
    expect(line(2, 2, false)).toBe(0);
    // The first metronome mark.
    expect(line(0, 2, false)).toBeGreaterThan(0);
  });

  it('grows with its signs, as letters do', () => {
    expect(line(0, 2, false, 1.5)).toBeCloseTo(1.5 * line(0, 2, false));
    expect(letterHeight(1.5)).toBeCloseTo(1.5 * letterHeight(1));
  });
});

describe('the size of signs', () => {
  const options: PageOptions = { width: 900, scale: 0.6, above: 22, below: 0, names: false, tempo: true };

  it('is larger than its small staves where these are a sketch of a whole, and on paper never', () => {
    expect(signSize({ ...options, besideClef: true }, 0.6)).toBeCloseTo(1.5);
    expect(signSize({ ...options, besideClef: true }, 1.17)).toBe(1);
    expect(signSize(options, 0.6)).toBe(1);
    expect(signSize({ ...options, besideClef: true, staveHeight: 7 }, 0.6)).toBe(1);
  });
});
