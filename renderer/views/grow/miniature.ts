import { ZERO } from '../../../core/foundation/fraction.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { beatsLater } from '../../../core/plan/beats.ts';
import { unplaced } from '../../../core/plan/marks.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import { passageOf, type Statement, onsetAfter, treatedFurther } from '../../../core/plan/statement.ts';
import { scoreOfPlan } from '../../../core/score/fromPlan.ts';
import type { Score } from '../../../core/score/score.ts';
import type { CardChoice } from './cardChoice.ts';
import type { Card } from './card.ts';

const planOf = (statements: readonly Statement[], parts: Plan['parts']): Plan => ({
  parts,
  statements,
  tempo: 90,
  letters: [],
  nextId: 1,
});

const treated = (motif: Motif, from: Statement, card: Card, choice: CardChoice): Statement => {
  const more = [...card.treatments(choice, passageOf(motif, from), motif), ...choice.also];
  const which = card.id.startsWith('motif-') ? { motif: card.id.slice(6), chain: [] } : {};
  const what = card.accompaniment?.(choice, motif, from);
  if (what !== undefined)
    return { id: 'm', part: 'm', onset: ZERO, chain: [], times: 1, accompaniment: what };
  return {
    // What is written over and under the page belongs to its place there.
    ...unplaced(from),
    id: 'm',
    part: 'm',
    onset: ZERO,
    times: 1,
    ...treatedFurther(motif, from, more),
    ...which,
  };
};

/** What a card would give, alone on one stave. */
export const miniature = (motif: Motif, from: Statement, card: Card, choice: CardChoice): Score => {
  const statement = treated(motif, from, card, choice);
  const times = card.id === 'repetition' ? Math.min(2, choice.times) : card.id === 'diminution' ? 2 : 1;
  const at = card.blanks.includes('beats') ? beatsLater(motif.metre, ZERO, choice.beats) : ZERO;
  return scoreOfPlan(
    motif,
    planOf([{ ...statement, onset: at, times }], [{ id: 'm', instrument: 'xylophone' }]),
    '',
    '',
  );
};

/**
 * The concept card's music: the pupil's own idea, and then what the technique makes of it; together
 * where the technique is about two parts.
 */
export const conceptScore = (
  motif: Motif,
  from: Statement,
  card: Card,
  choice: CardChoice,
  tempo: number,
): Score => {
  const first: Statement = { ...unplaced(from), id: 'a', part: 'a', onset: ZERO, times: 1 };
  const second = treated(motif, from, card, choice);
  const together = card.place === 'other';
  const end = onsetAfter(motif, first);
  const at = card.blanks.includes('beats') ? beatsLater(motif.metre, ZERO, choice.beats) : ZERO;
  const statements: Statement[] = together
    ? [
        { ...first, times: 2 },
        { ...second, part: 'b', onset: at, leader: 'a' },
      ]
    : [
        first,
        { ...second, part: 'a', onset: end, times: card.id === 'repetition' ? 1 : second.times, leader: 'a' },
      ];
  const parts: Plan['parts'] = together
    ? [
        { id: 'a', instrument: 'xylophone' },
        { id: 'b', instrument: 'marimba' },
      ]
    : [{ id: 'a', instrument: 'xylophone' }];
  return { ...scoreOfPlan(motif, planOf(statements, parts), '', ''), tempo };
};
