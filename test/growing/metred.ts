import { fraction, show } from '../../core/foundation/fraction.ts';
import { type Metre, metre, showMetre } from '../../core/foundation/metre.ts';
import type { Motif } from '../../core/motif/motif.ts';
import { firstPlan, type Plan } from '../../core/plan/plan.ts';
import { after, four, IDEA } from './keyed.ts';

export const M34 = metre(3, 4);
export const M68 = metre(6, 8);

export const inMetre = (plan: Plan, bar: number, to: Metre, motif: Motif = IDEA): Plan =>
  after(motif, plan, { kind: 'metre', statement: 's1', bar, to });
export const metresOf = (plan: Plan): string[] =>
  (plan.metres ?? []).map(m => `${String(m.bar)} ${showMetre(m.metre)}`);
/** Four times, followed by a marimba. @param beats later */
export const canonAfter = (beats: number): Plan =>
  after(IDEA, four(), { kind: 'canon', statement: 's1', to: { newPart: 'marimba' }, beats });
export const onsets = (plan: Plan): string[] => plan.statements.map(s => show(s.onset));

/** A at bar 1, B at bar 3, C at bar 5: two bars of the idea in each, statements of their own. */
export const sections = (): Plan => ({
  ...firstPlan('xylophone', 90),
  statements: [0, 2, 4].map((bar, i) => ({
    id: `s${String(i + 1)}`,
    part: 'p1',
    onset: fraction(bar),
    chain: [],
    times: 2,
  })),
  letters: [
    { bar: 0, letter: 'A' },
    { bar: 2, letter: 'B' },
    { bar: 4, letter: 'C' },
  ],
  nextId: 4,
});

// Notes keep their written values and are barred anew (common practice, no source); every bar below is counted by hand.
