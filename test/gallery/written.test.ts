import { describe, expect, it } from 'vitest';
import { OFFERED_METRES } from '../../core/foundation/metre.ts';
import { written } from '../score/written.ts';
import { scoreOf } from './situation.ts';
import { SITUATIONS } from './situations/index.ts';

describe('the gallery', () => {
  it('has at least sixty situations, with names of their own, in every metre that is offered', () => {
    expect(SITUATIONS.length).toBeGreaterThanOrEqual(60);
    expect(new Set(SITUATIONS.map(s => s.id)).size).toBe(SITUATIONS.length);
    expect([...new Set(SITUATIONS.map(s => s.metre))].sort()).toEqual([...OFFERED_METRES].sort());
  });

  it.each(SITUATIONS.map(s => [s.id, s] as const))('%s is written by its rule', (_id, situation) => {
    const score = scoreOf(situation);
    expect(score.parts.map(part => written(part.bars)).join(' / ')).toBe(situation.written);
  });
});
