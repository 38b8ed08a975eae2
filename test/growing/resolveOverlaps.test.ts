import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fraction, show, times } from '../../core/foundation/fraction.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { detach } from '../../core/growing/detach.ts';
import { fragment } from '../../core/motif/fragment.ts';
import { passageOf, notesOfStatement, statementEnd } from '../../core/plan/statement.ts';
import { resolveOverlaps } from '../../core/growing/resolveOverlaps.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { standingIn } from '../../core/plan/standing.ts';
import { grow } from '../../core/growing/grow.ts';
import { IDEA, plans } from '../plan/motifs.ts';

const longer = (bars: number): Motif => ({ ...IDEA, length: fraction(bars) });
const grown = (plan: Plan, step: Parameters<typeof grow>[2]): Plan => {
  const result = grow(IDEA, plan, step);
  if (!result.ok) throw new Error(result.problem.what);
  return result.value.plan;
};
const entries = (plan: Plan): string[] => plan.statements.map(s => `${s.part} ${show(s.onset)}`);

describe('statements under a motif that became longer', () => {
  it('a sequence still follows on, and nothing sounds at once in a part', () => {
    const plan = grown(firstPlan('xylophone', 90), {
      kind: 'sequence',
      statement: 's1',
      steps: 1,
      copies: 2,
    });
    expect(entries(plan)).toEqual(['p1 0', 'p1 1', 'p1 2']);
    expect(entries(resolveOverlaps(longer(2), plan))).toEqual(['p1 0', 'p1 2', 'p1 4']);
  });

  it('what answers a statement that waits keeps its distance from it', () => {
    const first = grown(firstPlan('xylophone', 90), {
      kind: 'sequence',
      statement: 's1',
      steps: 1,
      copies: 1,
    });
    const second = first.statements[1]?.id ?? '';
    const plan = grown(first, {
      kind: 'canon',
      statement: second,
      to: { newPart: 'marimba' },
      beats: 1,
    });
    const marimba = plan.parts[1]?.id ?? '';
    expect(entries(plan)).toEqual(['p1 0', 'p1 1', `${marimba} 5/4`]);
    expect(entries(resolveOverlaps(longer(2), plan))).toEqual(['p1 0', 'p1 2', `${marimba} 9/4`]);
  });

  it('a statement changed by hand keeps its room when the motif becomes shorter', () => {
    const plan = grown(detach(IDEA, firstPlan('xylophone', 90), 's1'), {
      kind: 'repeat',
      statement: 's1',
      times: 2,
    });
    const half: Motif = { ...IDEA, ...fragment(IDEA, fraction(0), fraction(1, 2)) };
    const [statement] = plan.statements;
    if (statement === undefined) throw new Error('no statement');
    expect(show(passageOf(half, statement).length)).toBe('1');
    expect(show(statementEnd(half, statement))).toBe('2');
    expect(notesOfStatement(half, statement).map(n => show(n.onset))).toEqual(
      notesOfStatement(IDEA, statement).map(n => show(n.onset)),
    );
  });

  it('any plan: none is lost, none enters sooner, none overlaps; with room enough it is left alone', () => {
    fc.assert(
      fc.property(plans, fc.integer({ min: 1, max: 4 }), (plan, bars) => {
        const motif: Motif = { ...IDEA, length: times(IDEA.length, bars) };
        const after = resolveOverlaps(motif, plan);
        expect(after.statements.map(s => s.id)).toEqual(plan.statements.map(s => s.id));
        after.statements.forEach((s, i) => {
          expect(standingIn(motif, after, s)).toBeUndefined();
          const was = plan.statements[i];
          expect(was !== undefined && s.onset.n * was.onset.d >= was.onset.n * s.onset.d).toBe(true);
        });
        if (bars === 1) expect(after).toBe(plan);
      }),
    );
  });
});
