import { fraction } from '../../core/foundation/fraction.ts';
import { key } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';
import type { ExpectedStroke } from '../../core/rehearse/expected.ts';
import type { PlayedStroke } from '../../core/rehearse/notice.ts';
import type { Noticed } from '../../core/rehearse/notice.ts';

/** Notes by length in quavers (below 0 a rest) and degree above C4, from the barline or an upbeat on. */
export const ideaOf = (
  notes: readonly (readonly [quavers: number, degree: number])[],
  change: Partial<Motif> = {},
): Motif => {
  let at = 0;
  const written = notes.flatMap(([quavers, degree]) => {
    const onset = at;
    at += Math.abs(quavers);
    return quavers < 0
      ? []
      : [{ onset: fraction(onset, 8), duration: fraction(quavers, 8), degree: 28 + degree, alter: 0 }];
  });
  return { key: key('C'), metre: metre(4, 4), length: fraction(at, 8), notes: written, ...change };
};

export const scoreOf = (motif: Motif, change: Partial<Plan> = {}, tempo = 120): Score =>
  scoreOfPlan(motif, { ...firstPlan('xylophone', tempo), ...change }, 'Idea', 'Heron');

/** The idea stated so many times, and a canon in a second part a beat later. */
export const canonOf = (motif: Motif, times = 4): Score => {
  let plan = firstPlan('xylophone', 120);
  for (const step of [
    { kind: 'repeat', statement: 's1', times },
    { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats: 1 },
  ] as const) {
    const grown = grow(motif, plan, step);
    if (!grown.ok) throw new Error(grown.problem.what);
    plan = grown.value.plan;
  }
  return scoreOfPlan(motif, plan, 'Idea', 'Heron');
};

/** What is written, struck exactly. */
export const exactly = (expected: readonly ExpectedStroke[]): readonly PlayedStroke[] =>
  expected.map(({ seconds, pitch }) => ({ at: seconds, pitch, velocity: 90 }));

export const ALL = { first: 0, last: 999 };

/** How often each kind of thing was noticed. */
export const kinds = (all: readonly Noticed[]): Record<string, number> => {
  const count: Record<string, number> = {};
  for (const { kind } of all) count[kind] = (count[kind] ?? 0) + 1;
  return count;
};
