import { describe, expect, it } from 'vitest';
import { fraction } from '../../core/foundation/fraction.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth } from '../../core/growing/growth.ts';
import { statementName } from '../../core/plan/naming.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { IDEA } from './motifs.ts';

const after = (...steps: readonly Growth[]): string[] => {
  let plan: Plan = firstPlan('xylophone', 90);
  for (const step of steps) {
    const result = grow(IDEA, plan, step);
    if (!result.ok) throw new Error(result.problem.what);
    plan = result.value.plan;
  }
  return plan.statements.map(s => statementName(IDEA, plan, s));
};
const canon: Growth = { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats: 1 };

describe('a name says what a statement is beside its leader as the leader is now', () => {
  it('a follower of a leader since turned upside down or stretched is no canon of it', () => {
    expect(
      after(canon, { kind: 'change', statement: 's1', treatments: [{ kind: 'invert', by: 'scale' }] }),
    ).toEqual(['inversion', 'the motif']);
    expect(
      after(canon, {
        kind: 'change',
        statement: 's1',
        treatments: [{ kind: 'augment', factor: fraction(2) }],
      }),
    ).toEqual(['augmentation', 'the motif']);
  });

  it('a leader since moved by steps is imitated from an interval away', () => {
    expect(
      after(canon, {
        kind: 'change',
        statement: 's1',
        treatments: [{ kind: 'transpose', by: 'scale', steps: 2 }],
      })[1],
    ).toContain('imitation, one beat later, a third lower');
  });

  it('a follower treated like its leader is a canon again', () => {
    const turn = [{ kind: 'retrograde' }] as const;
    expect(
      after(
        canon,
        { kind: 'change', statement: 's1', treatments: turn },
        {
          kind: 'change',
          statement: 's3',
          treatments: turn,
        },
      )[1],
    ).toBe('canon, one beat later (retrograde)');
  });
});
