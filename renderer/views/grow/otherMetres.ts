import { type Metre, METRES_TO_CHOOSE, metreInWords, sameMetre } from '../../../core/foundation/metre.ts';
import { metreOfBar } from '../../../core/foundation/barring.ts';
import type { BarNumber } from '../../../core/foundation/units.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { barringIn } from '../../../core/plan/keys.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import type { CardChoice } from './cardChoice.ts';
import { changeBarOf } from './otherKeys.ts';

/** The metre that holds just before a bar (from 1). */
export const metreBefore = (motif: Motif, plan: Plan, bar: BarNumber): Metre =>
  metreOfBar(barringIn(motif, plan), bar - 2).metre;

/** The bar (from 1) from which another metre is tried. */
export const metreBarOf = (choice: CardChoice, motif: Motif, plan: Plan): BarNumber =>
  changeBarOf(choice.metreBar, motif, plan);

/** What may follow the metre before a bar. */
export const metreOptions = (motif: Motif, plan: Plan, bar: BarNumber): readonly Metre[] => {
  const before = metreBefore(motif, plan, bar);
  return METRES_TO_CHOOSE.filter(m => !sameMetre(m, before));
};

/** The metre that is tried: as chosen where it is another than before, else the first that is. */
export const otherMetreOf = (choice: CardChoice, motif: Motif, plan: Plan): Metre => {
  const options = metreOptions(motif, plan, metreBarOf(choice, motif, plan));
  const chosen = options.find(m => metreInWords(m) === choice.otherMetre);
  // Three beats beside four is what a class meets first.
  return chosen ?? options.find(m => metreInWords(m) === '3/4') ?? options[0] ?? motif.metre;
};
