import type { Bpm } from '../foundation/units.ts';
import type { Plan } from './plan.ts';

/** A plan with a new metronome mark from a bar (from 1) on; at bar 1 for the whole piece, later marks stay. */
export const tempoFrom = (plan: Plan, bar: number, tempo: Bpm): Plan => {
  if (bar <= 1) return { ...plan, tempo };
  const others = (plan.tempi ?? []).filter(t => t.bar !== bar - 1);
  const before = others.filter(t => t.bar < bar - 1).at(-1)?.tempo ?? plan.tempo;
  const all = before === tempo ? others : [...others, { bar: bar - 1, tempo }].sort((a, b) => a.bar - b.bar);
  const { tempi: _, ...rest } = plan;
  return all.length === 0 ? rest : { ...rest, tempi: all };
};
