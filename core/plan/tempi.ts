import type { BarIndex, BarNumber, Bpm } from '../foundation/units.ts';
import type { Plan } from './plan.ts';

/**
 * A plan with a new metronome mark from a bar (from 1) on; at bar 1 for the whole piece, later marks stay.
 * @example
 * const plan = firstPlan('xylophone', 90);
 * tempoFrom(plan, 5, 120).tempi // => [{ bar: 4, tempo: 120 }]
 */
export const tempoFrom = (plan: Plan, bar: BarNumber, tempo: Bpm): Plan => {
  if (bar <= 1) return { ...plan, tempo };
  const index: BarIndex = bar - 1;
  const others = (plan.tempi ?? []).filter(t => t.bar !== index);
  const before = others.filter(t => t.bar < index).at(-1)?.tempo ?? plan.tempo;
  const all = before === tempo ? others : [...others, { bar: index, tempo }].sort((a, b) => a.bar - b.bar);
  const { tempi: _, ...rest } = plan;
  return all.length === 0 ? rest : { ...rest, tempi: all };
};
