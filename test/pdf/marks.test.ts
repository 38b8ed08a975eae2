import { describe, expect, it } from 'vitest';
import { circleSteps, moved, stepsOfPath } from '../../renderer/pdf/marks.ts';

describe('an SVG path', () => {
  it('is read as moves, lines, curves and closings', () => {
    expect(stepsOfPath('M1 2L3,4 5-6Z')).toEqual([['M', 1, 2], ['L', 3, 4], ['L', 5, -6], ['Z']]);
    expect(stepsOfPath('M0 0C1 2 3 4 5 6')).toEqual([
      ['M', 0, 0],
      ['C', 1, 2, 3, 4, 5, 6],
    ]);
  });

  it('has quadratic curves as the cubic that is the same curve', () => {
    const [, curve] = stepsOfPath('M0 0Q3 6 6 0') ?? [];
    expect(curve).toEqual(['C', 2, 4, 4, 4, 6, 0]);
    // The middle of the quadratic lies at ¼·P0 + ½·P1 + ¼·P2 = (3, 3); of the cubic at ⅛, ⅜, ⅜, ⅛.
    if (curve?.[0] !== 'C') throw new Error('no curve');
    expect([
      (3 * curve[1] + 3 * curve[3] + curve[5]) / 8,
      (3 * curve[2] + 3 * curve[4] + curve[6]) / 8,
    ]).toEqual([3, 3]);
  });

  it('counts the place a curve ends at as the start of the next', () => {
    const steps = stepsOfPath('M0 0Q3 0 3 3Q3 6 6 6') ?? [];
    expect(steps[2]).toEqual(['C', 3, 5, 4, 6, 6, 6]);
  });

  it('that holds anything else is not read at all, rather than in part', () => {
    for (const d of ['M0 0A1 1 0 0 1 2 2', 'M0 0l1 1', 'M0 0H5', 'M0 0L1']) {
      expect(stepsOfPath(d), d).toBeUndefined();
    }
  });

  it('may hold powers of ten and numbers without a leading zero', () => {
    expect(stepsOfPath('M1e-7 .5')).toEqual([['M', 1e-7, 0.5]]);
  });
});

describe('marks', () => {
  it('move as a whole', () => {
    expect(
      moved({ kind: 'shape', steps: [['M', 1, 2], ['C', 1, 2, 3, 4, 5, 6], ['Z']], width: 1 }, 10, 20),
    ).toEqual({
      kind: 'shape',
      steps: [['M', 11, 22], ['C', 11, 22, 13, 24, 15, 26], ['Z']],
      width: 1,
    });
  });

  it('make circles whose curves leave the true circle by less than a thousandth', () => {
    for (const step of circleSteps(0, 0, 100)) {
      if (step[0] !== 'C') continue;
      expect(Math.hypot(step[5], step[6])).toBeCloseTo(100, 9);
    }
    // Middle of the first quarter, by de Casteljau.
    const [, first] = circleSteps(0, 0, 100);
    if (first?.[0] !== 'C') throw new Error('no curve');
    const middle = [
      (100 + 3 * first[1] + 3 * first[3] + first[5]) / 8,
      (3 * first[2] + 3 * first[4] + first[6]) / 8,
    ];
    expect(Math.abs(Math.hypot(middle[0] ?? 0, middle[1] ?? 0) - 100)).toBeLessThan(0.1);
  });
});
