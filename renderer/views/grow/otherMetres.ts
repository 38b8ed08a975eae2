import { type MetreChange, metreOfBar } from '../../../core/foundation/barring.ts';
import { type Metre, METRES_TO_CHOOSE, metreInWords, sameMetre } from '../../../core/foundation/metre.ts';
import type { Problem } from '../../../core/foundation/result.ts';
import type { BarNumber } from '../../../core/foundation/units.ts';
import type { Growth } from '../../../core/growing/growth.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { barringIn } from '../../../core/plan/keys.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { writtenStep } from '../../../core/score/writtenStep.ts';
import type { CardChoice } from './cardChoice.ts';
import { changeBarOf } from './otherKeys.ts';

/** The metre that holds just before a bar (from 1). */
export const metreBefore = (motif: Pick<Motif, 'metre'>, plan: Plan, bar: BarNumber): Metre =>
  metreOfBar(barringIn(motif, plan), bar - 2).metre;

/** The change of metre that stands at a bar (from 1); undefined where the metre goes on. */
export const metreChangeAt = (
  motif: Pick<Motif, 'metre'>,
  plan: Plan,
  bar: BarNumber,
): MetreChange | undefined => (bar < 2 ? undefined : barringIn(motif, plan).find(m => m.bar === bar - 1));

/** The bar (from 1) from which another metre is tried. */
export const metreBarOf = (choice: CardChoice, motif: Motif, plan: Plan): BarNumber =>
  changeBarOf(choice.metreBar, motif, plan);

const stepTo = (plan: Plan, bar: BarNumber, to: Metre): Growth => ({
  kind: 'metre',
  statement: plan.statements[0]?.id ?? '',
  bar,
  to,
});

/** The metres but the one before a bar and the one that begins there, three beats beside four first. */
const others = (motif: Motif, plan: Plan, bar: BarNumber): readonly Metre[] => {
  const before = metreBefore(motif, plan, bar);
  const there = metreChangeAt(motif, plan, bar)?.metre;
  const all = METRES_TO_CHOOSE.filter(
    m => !sameMetre(m, before) && (there === undefined || !sameMetre(m, there)),
  );
  const first = all.filter(m => metreInWords(m) === '3/4');
  return [...first, ...all.filter(m => !first.includes(m))];
};

/** What the music can be barred in from a bar (from 1) on: every one of them is written when it is chosen. */
export const metreOptions = (motif: Motif, plan: Plan, bar: BarNumber): readonly Metre[] => {
  const fitting = others(motif, plan, bar).filter(to => writtenStep(motif, plan, stepTo(plan, bar, to)).ok);
  return METRES_TO_CHOOSE.filter(m => fitting.includes(m));
};

/** Why a bar (from 1) has no options: what is said of the first that was thought of. */
export const noMetreBecause = (motif: Motif, plan: Plan, bar: BarNumber): Problem | undefined => {
  const [to] = others(motif, plan, bar);
  if (to === undefined) return undefined;
  const tried = writtenStep(motif, plan, stepTo(plan, bar, to));
  return tried.ok ? undefined : tried.problem;
};

/** The metre that is tried: as chosen where it can be, else the first that can. */
export const otherMetreOf = (choice: CardChoice, motif: Motif, plan: Plan): Metre => {
  const bar = metreBarOf(choice, motif, plan);
  const all = others(motif, plan, bar);
  const fits = (to: Metre): boolean => writtenStep(motif, plan, stepTo(plan, bar, to)).ok;
  const chosen = all.find(m => metreInWords(m) === choice.otherMetre);
  if (chosen !== undefined && fits(chosen)) return chosen;
  return all.find(fits) ?? chosen ?? all[0] ?? motif.metre;
};
