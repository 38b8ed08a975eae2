import { type MetresInForce, metreOfBar } from '../foundation/barring.ts';
import { sameMetre } from '../foundation/metre.ts';
import { ok } from '../foundation/result.ts';
import type { BarNumber } from '../foundation/units.ts';
import type { Motif } from '../motif/motif.ts';
import type { Accompaniment } from '../plan/accompaniment.ts';
import { positionOf } from '../plan/beats.ts';
import type { Plan } from '../plan/plan.ts';
import type { Grown, Growth, OnConflict } from './growth.ts';
import { place } from './place.ts';

/** An accompaniment that fills a bar (from 1) of the metre in force there. */
export const inMetre = (
  what: Accompaniment,
  motif: Motif,
  barring: MetresInForce,
  bar: BarNumber,
): Accompaniment => {
  const { metre: _, ...rest } = what;
  const { metre } = metreOfBar(barring, bar - 1);
  return sameMetre(metre, motif.metre) ? rest : { ...rest, metre };
};

/**
 * A bar of accompaniment over so many bars: a statement for each metre they are in.
 * @param there the plan, and the part that plays it
 */
export const accompany = (
  motif: Motif,
  there: { readonly plan: Plan; readonly part: string },
  step: Extract<Growth, { kind: 'accompany' }>,
  metres: MetresInForce,
  onConflict: OnConflict | undefined,
): Grown => {
  const after = step.bar + step.bars;
  const begins = [step.bar, ...metres.map(m => m.bar + 1).filter(bar => bar > step.bar && bar < after)];
  let grown: Grown = ok({ plan: there.plan, statement: step.statement });
  let first: string | undefined;
  for (const [i, bar] of begins.entries()) {
    if (!grown.ok) return grown;
    grown = place(
      motif,
      grown.value.plan,
      {
        part: there.part,
        onset: positionOf(metres, bar, 1),
        chain: [],
        times: (begins[i + 1] ?? after) - bar,
        accompaniment: inMetre(step.what, motif, metres, bar),
      },
      onConflict,
    );
    if (grown.ok) first ??= grown.value.statement;
  }
  return grown.ok && first !== undefined ? ok({ plan: grown.value.plan, statement: first }) : grown;
};
