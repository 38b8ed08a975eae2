import { metreOfBar } from '../foundation/barring.ts';
import { divide } from '../foundation/fraction.ts';
import { type Metre, tactus } from '../foundation/metre.ts';
import type { BarIndex, BarNumber, Bpm } from '../foundation/units.ts';
import type { Motif } from '../motif/motif.ts';
import { barringIn } from './keys.ts';
import type { Plan } from './plan.ts';

/**
 * A tempo told in the beats of another metre, as fast as before. There and back it is the very same figure.
 * @example
 * inBeatsOf(90, metre(4, 4), metre(6, 8)) // => 60
 */
export const inBeatsOf = (tempo: Bpm, told: Metre, metre: Metre): Bpm => {
  const beats = divide(tactus(told), tactus(metre));
  const exact = (tempo * beats.n) / beats.d;
  // What two thirds have rounded off comes back with three halves.
  const near = Math.round(exact * 1000) / 1000;
  return Math.abs(exact - near) < 1e-9 ? near : exact;
};

/**
 * The tempo in force at a bar (from 1), in tactus beats of its metre: another metre alone makes no note value faster.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(4), notes: [] };
 * tempoOfBar(idea, { ...firstPlan('xylophone', 90), metres: [{ bar: 2, metre: metre(6, 8) }] }, 3) // => 60
 */
export const tempoOfBar = (motif: Pick<Motif, 'metre'>, plan: Plan, bar: BarNumber): Bpm => {
  const barring = barringIn(motif, plan);
  const index: BarIndex = bar - 1;
  const mark = (plan.tempi ?? []).filter(t => t.bar <= index).at(-1);
  const told = mark === undefined ? motif.metre : metreOfBar(barring, mark.bar).metre;
  return inBeatsOf(mark?.tempo ?? plan.tempo, told, metreOfBar(barring, index).metre);
};

/**
 * A plan with a new metronome mark from a bar (from 1) on, in tactus beats of its metre; at bar 1 for the whole piece,
 * later marks stay. As fast as before needs no mark.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(8), notes: [] };
 * tempoFrom(idea, firstPlan('xylophone', 90), 5, 120).tempi // => [{ bar: 4, tempo: 120 }]
 */
export const tempoFrom = (motif: Pick<Motif, 'metre'>, plan: Plan, bar: BarNumber, tempo: Bpm): Plan => {
  if (bar <= 1) return { ...plan, tempo };
  const index: BarIndex = bar - 1;
  const { tempi: all = [], ...rest } = plan;
  const others = all.filter(t => t.bar !== index);
  const before = tempoOfBar(motif, { ...rest, tempi: others }, bar);
  const now = before === tempo ? others : [...others, { bar: index, tempo }].sort((a, b) => a.bar - b.bar);
  return now.length === 0 ? rest : { ...rest, tempi: now };
};
