import { fraction } from '../../core/foundation/fraction.ts';
import { type Key, key, keyName } from '../../core/foundation/key.ts';
import { metre } from '../../core/foundation/metre.ts';
import { pitchName } from '../../core/foundation/pitch.ts';
import { type OtherKey } from '../../core/growing/changeKey.ts';
import { grow } from '../../core/growing/grow.ts';
import type { Growth } from '../../core/growing/growth.ts';
import type { Motif, MotifNote } from '../../core/motif/motif.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';

/** Crotchets of a bar by degree (28 is the tonic of octave 4), with alterations where given. */
export const crotchets = (
  degrees: readonly (number | readonly [degree: number, alter: number])[],
): MotifNote[] =>
  degrees.map((one, i) => {
    const [degree, alter] = typeof one === 'number' ? [one, 0] : one;
    return { onset: fraction(i, 4), duration: fraction(1, 4), degree, alter };
  });
export const ideaIn = (k: Key, degrees: Parameters<typeof crotchets>[0] = [35, 37, 39, 36]): Motif => ({
  key: k,
  metre: metre(4, 4),
  length: fraction(1),
  notes: crotchets(degrees),
});
/** C5 E5 G5 D5. */
export const IDEA = ideaIn(key('C'));
/** G4 | C5 E5 G5. */
export const UPBEAT_IDEA: Motif = {
  key: key('C'),
  metre: metre(4, 4),
  length: fraction(1),
  upbeat: fraction(1, 4),
  notes: [32, 35, 37, 39].map((degree, i) => ({
    onset: fraction(i - 1, 4),
    duration: fraction(1, 4),
    degree,
    alter: 0,
  })),
};
export const after = (motif: Motif, plan: Plan, ...steps: readonly Growth[]): Plan =>
  steps.reduce((so, step) => {
    const grown = grow(motif, so, step);
    if (!grown.ok) throw new Error(grown.problem.what);
    return grown.value.plan;
  }, plan);
export const four = (motif: Motif = IDEA): Plan =>
  after(motif, firstPlan('xylophone', 90), { kind: 'repeat', statement: 's1', times: 4 });
export const inKey = (motif: Motif, plan: Plan, bar: number, to: OtherKey): Plan =>
  after(motif, plan, { kind: 'key', statement: 's1', bar, to });
export const scoreOf = (motif: Motif, plan: Plan): Score => scoreOfPlan(motif, plan, 'Ferry bell', 'Heron');
/** Every bar of a part as names, tied pieces once. */
export const barsOf = (score: Score, part = 0): string[] =>
  (score.parts[part]?.bars ?? []).map(bar =>
    bar.symbols.flatMap(s => (s.tiedFrom ? [] : s.pitches.map(p => pitchName(p.spelled)))).join(' '),
  );
export const keysOf = (score: Score): string[] =>
  [keyName(score.key)].concat((score.keys ?? []).map(k => `${String(k.bar)} ${keyName(k.key)}`));
