import { describe, expect, it } from 'vitest';
import { metre } from '../../../core/foundation/metre.ts';
import type { Candidate } from '../../../core/reading/onBeat/onBeat.ts';
import type { Placement } from '../../../core/reading/onBeat/placeOnBeat.ts';
import { latticeOf } from '../../../core/reading/search/lattice.ts';
import type { TimeMap } from '../../../core/reading/search/timeMap.ts';
import { doubtsOf } from '../../../core/reading/writing/doubts.ts';
import { reasonOf } from '../../../core/reading/writing/reason.ts';

const FOUR = metre(4, 4);
const placed = (ticks: readonly number[], ratio = 1, of: 'half' | 'quarter' = 'half'): Placement =>
  // What a reason or a doubt looks at, no more.
  ({ ticks: Int32Array.from(ticks), cost: 0, swing: { ratio, of, cost: 0 } }) as unknown as Placement;

describe('what sets a reading apart, in a line', () => {
  const best = placed([0, 24, 48, 96]);
  const best44 = (found: Placement): string => reasonOf(found, latticeOf(FOUR), found, FOUR, 100, 100);
  const beside = (found: Placement, other = best, tempo = 100, m = FOUR): string =>
    reasonOf(found, latticeOf(m), other, FOUR, 100, tempo);

  it.each([
    [[0, 192], 'semibreves and longer'],
    [[0, 96], 'minims and longer'],
    [[0, 48, 96], 'crotchets and longer'],
    [[0, 24, 48], 'quavers and longer'],
    [[0, 12, 48], 'semiquavers and longer'],
    [[0, 6, 48], 'demisemiquavers and longer'],
    [[0, 16, 32], 'a triplet in bar 1'],
    [[0, 16, 32, 208], 'triplets in bars 1 and 2'],
    [[0, 16, 64], 'triplets in bar 1'],
    [[-32, 0], 'a triplet in the upbeat'],
    [[-32, 16, 208, 400], 'triplets in the upbeat and bars 1, 2 and 3'],
    [[16, 208, 400, 592], 'triplets in bars 1, 2, 3 and on'],
  ])('the best, with notes at %j: %s', (ticks, said) => {
    expect(best44(placed(ticks))).toBe(said);
  });

  it('swing is said of the best, and where it differs from it', () => {
    expect(best44(placed([0, 24], 2))).toBe('swung quavers');
    expect(best44(placed([0, 12], 1.6, 'quarter'))).toBe('swung semiquavers');
    expect(beside(placed([0, 24, 48, 96], 2))).toBe('swung quavers');
    expect(beside(placed([0, 24, 48, 96]), placed([0, 24, 48, 96], 2))).toBe('straight, not swung');
  });

  it('another metre and another beat', () => {
    expect(beside(placed([0, 24, 48, 96]), best, 100, metre(3, 4))).toBe('in 3/4');
    expect(beside(placed([0, 48, 96, 192]), best, 200)).toBe('twice as fast a beat');
    expect(beside(placed([0, 12, 24, 48]), best, 50)).toBe('half as fast a beat');
    expect(beside(placed([0, 24, 48, 84]), best, 150)).toBe('one note elsewhere in bar 1');
  });

  it('the notes that lie elsewhere, and a triplet by its beat', () => {
    expect(beside(placed([0, 24, 48, 108]))).toBe('one note elsewhere in bar 1');
    expect(beside(placed([0, 24, 60, 204]))).toBe('2 notes elsewhere in bars 1 and 2');
    expect(beside(placed([0, 24, 48, 112]))).toBe('a triplet on beat 3 of bar 1');
    expect(beside(placed([0, 16, 48, 112]))).toBe('triplets in bar 1');
    expect(beside(placed([0, 12, 48, 208]))).toBe('a triplet on beat 1 of bar 2, 2 notes elsewhere in bar 1');
  });
});

const MAP: TimeMap = { beats: Float64Array.from({ length: 12 }, (_, i) => i * 0.5), step: 48, zero: 0 };
const candidate = (ticks: readonly number[], open = false): Candidate =>
  ({
    found: placed(ticks),
    cost: 0,
    beat: { map: MAP, lattice: latticeOf(FOUR), open },
    evidence: { at: Float64Array.from(ticks, t => (t / 48) * 0.5) },
  }) as unknown as Candidate;

describe('doubt', () => {
  const one = candidate([0, 24, 48, 96]);

  it('is the chance of the readings that put a note elsewhere', () => {
    const { doubt, elsewhere } = doubtsOf(one, [one, candidate([0, 32, 48, 96])], [0.7, 0.3]);
    expect(doubt.map(d => Number(d.toFixed(9)))).toEqual([0, 0.3, 0, 0]);
    expect(elsewhere[1]).toEqual([32]);
  });

  it('other places are told likeliest first, three at the most, never over a neighbour', () => {
    const others = [36, 32, 30, 28].map(t => candidate([0, t, 48, 96]));
    const { elsewhere } = doubtsOf(
      one,
      [one, ...others, candidate([0, 60, 60, 96])],
      [0.2, 0.1, 0.3, 0.15, 0.05, 0.2],
    );
    expect(elsewhere[1]).toEqual([32, 30, 36]);
  });

  it('a reading with hardly a chance changes nothing', () => {
    const { elsewhere } = doubtsOf(one, [one, candidate([0, 32, 48, 96])], [1, 1e-6]);
    expect(elsewhere[1]).toEqual([]);
  });

  it('on an open beat the same rhythm after another barline, or in other values, agrees', () => {
    const open = candidate([0, 24, 48, 96], true);
    const sure = doubtsOf(open, [open], [0.82]).doubt;
    for (const like of [
      [96, 120, 144, 192],
      [0, 48, 96, 192],
      [0, 12, 24, 48],
    ]) {
      const { doubt } = doubtsOf(open, [open, candidate(like, true)], [0.42, 0.4]);
      doubt.forEach((d, i) => {
        expect(d).toBeCloseTo(sure[i] ?? 1, 9);
      });
    }
    const { doubt } = doubtsOf(open, [open, candidate([0, 24, 60, 96], true)], [0.42, 0.4]);
    expect(doubt[2]).toBeGreaterThan((doubt[1] ?? 1) + 0.3);
    expect(sure.every(d => d > 0 && d < 0.1)).toBe(true);
  });

  it('a doubtful note always has another place to offer, near where it was struck', () => {
    const { elsewhere } = doubtsOf(one, [one], [0.5]);
    expect(elsewhere.every(places => places.length > 0)).toBe(true);
    // Quarters and thirds of the beat, between the notes before and after.
    expect(elsewhere[1]).toEqual([12, 36]);
    expect(elsewhere[2]?.every(t => t > 24 && t < 96)).toBe(true);
  });
});
