import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { type readTake } from '../../core/reading/read.ts';
import { demoTakes, takeAndHints } from './anyTake.ts';

/** The reader as it is before it has read anything. */
const freshReader = async (): Promise<typeof readTake> => {
  vi.resetModules();
  return (await import('../../core/reading/read.ts')).readTake;
};

/** A demonstration take read under a chosen grid, or under a swing tolerance: each chooses vocabularies of its own. */
const toleranceOrGrid = fc.record({
  take: fc.constantFrom(...demoTakes),
  hints: fc.oneof(
    fc.constantFrom('none' as const, 'low' as const).map(swingTolerance => ({ swingTolerance })),
    fc.constantFrom('triplet' as const, 'sextuplet' as const, 'quarter' as const).map(grid => ({ grid })),
  ),
});

describe('the reader remembers nothing of what it read before', () => {
  it('several questions asked in any order have the same answers', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(takeAndHints, { minLength: 3, maxLength: 3 }),
        fc.array(toleranceOrGrid, { minLength: 5, maxLength: 5 }),
        async (questions, more) => {
          const all = [...questions, ...more];
          const forwards = await freshReader();
          const answers = all.map(q => forwards(q.take, q.hints));
          const backwards = await freshReader();
          const again = [...all].reverse().map(q => backwards(q.take, q.hints));
          expect(again.reverse()).toEqual(answers);
        },
      ),
      { numRuns: 2, seed: 20261126 },
    );
  });

  it('Late for lunch in semiquavers with triplets is the same after Tin roof without swing', async () => {
    const [, tinRoof, , lateForLunch] = demoTakes;
    if (tinRoof === undefined || lateForLunch === undefined) throw new Error('the demo takes are missing');
    const alone = (await freshReader())(lateForLunch, { grid: 'sextuplet' });
    const used = await freshReader();
    used(tinRoof, { swingTolerance: 'none' });
    expect(used(lateForLunch, { grid: 'sextuplet' })).toEqual(alone);
  });
});
