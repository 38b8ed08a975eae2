import type { BarNumber } from '../foundation/units.ts';
import type { Plan } from '../plan/plan.ts';

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';

/**
 * Rehearsal letters at these bars (from 1), in order: A, B, C and so on; after Z comes AA.
 * @example
 * letteredAt([5, 1]) // => [{ bar: 0, letter: 'A' }, { bar: 4, letter: 'B' }]
 */
export const letteredAt = (bars: readonly BarNumber[]): Plan['letters'] =>
  [...new Set(bars)]
    .sort((a, b) => a - b)
    .map((bar, i) => ({
      bar: bar - 1,
      letter: (LETTERS[i % 26] ?? 'A').repeat(1 + Math.floor(i / 26)),
    }));

/**
 * Puts a rehearsal letter at a bar (from 1), or takes it away; the others are lettered anew in order.
 * @example
 * toggleLetter(firstPlan('xylophone', 90), 3).letters // => [{ bar: 2, letter: 'A' }]
 */
export const toggleLetter = (plan: Plan, bar: BarNumber): Plan => {
  const bars = plan.letters.map(l => l.bar + 1);
  return {
    ...plan,
    letters: letteredAt(bars.includes(bar) ? bars.filter(b => b !== bar) : [...bars, bar]),
  };
};
