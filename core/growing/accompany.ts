import { type MetresInForce, metreOfBar } from '../foundation/barring.ts';
import { sameMetre } from '../foundation/metre.ts';
import { failed, ok } from '../foundation/result.ts';
import type { BarNumber } from '../foundation/units.ts';
import type { Motif } from '../motif/motif.ts';
import type { Accompaniment } from '../plan/accompaniment.ts';
import { positionOf } from '../plan/beats.ts';
import { addStatement } from '../plan/change.ts';
import { barringIn } from '../plan/keys.ts';
import type { Plan } from '../plan/plan.ts';
import type { Grown, Growth } from './growth.ts';
import { outOfRange } from './refusals.ts';
import { lastBar, MOST_BARS } from './sections.ts';

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
 * The last long note: every part strikes the note chosen for it together, in a bar of its own after all
 * that sounds. Parts for which none was chosen are silent there.
 */
export const ending = (motif: Motif, plan: Plan, step: Extract<Growth, { kind: 'ending' }>): Grown => {
  const bar = lastBar(motif, plan) + 1;
  const barring = barringIn(motif, plan);
  const chosen = plan.parts.flatMap(part => {
    const own = step.steps[part.id];
    return own === undefined ? [] : [{ part: part.id, step: own }];
  });
  if (bar > MOST_BARS) return failed(outOfRange(`at most ${String(MOST_BARS)} bars`));
  if (chosen.length === 0) return failed(outOfRange('a last note for one part or more'));
  let grown: Grown = ok({ plan, statement: step.statement });
  for (const { part, step: degree } of chosen) {
    if (!grown.ok) return grown;
    const added = addStatement(motif, grown.value.plan, {
      part,
      onset: positionOf(barring, bar, 1),
      chain: [],
      times: 1,
      accompaniment: inMetre({ kind: 'ending', steps: [degree] }, motif, barring, bar),
    });
    grown = added.ok ? ok({ plan: added.value.plan, statement: added.value.id }) : added;
  }
  return grown;
};
