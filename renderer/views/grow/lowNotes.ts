import type { Motif } from '../../../core/motif/motif.ts';
import { type Accompaniment, stepChoices } from '../../../core/plan/accompaniment.ts';
import { type Plan, statementsOf } from '../../../core/plan/plan.ts';
import { passageOf } from '../../../core/plan/statement.ts';
import { type CardChoice, CHORDS } from './cardChoice.ts';

/** The tonic of octave 4: accompaniments lie low, where nothing else was chosen. */
const LOW = 28;

/** The lower note: as chosen, or the tonic under the idea. */
export const lowOf = (choice: CardChoice, motif: Motif): number =>
  choice.low ?? Math.min(LOW, stepChoices(motif.key, motif)[7]?.step ?? LOW);

/** A drone as chosen. */
export const droneOf = (choice: CardChoice, motif: Motif): Accompaniment => {
  const low = lowOf(choice, motif);
  const steps = choice.other === 0 ? [low] : [low, low + choice.other];
  return { kind: 'drone', figure: choice.figure, steps };
};

/** A chord as chosen. */
export const chordOf = (choice: CardChoice, motif: Motif): Accompaniment => {
  const low = lowOf(choice, motif);
  return { kind: 'chord', steps: [low, ...CHORDS[choice.chord].map(step => low + step)] };
};

/** The last note of a part: as chosen, or the tonic under what it plays last. */
export const lastOf = (choice: CardChoice, motif: Motif, plan: Plan, part: string): number => {
  const last = statementsOf(plan, part).at(-1);
  return (
    choice.last[part] ??
    stepChoices(motif.key, last === undefined ? motif : passageOf(motif, last))[7]?.step ??
    LOW
  );
};

/** The ending as its miniature shows it: the first last note chosen, or the tonic under the idea. */
export const endingOf = (choice: CardChoice, motif: Motif): Accompaniment => ({
  kind: 'ending',
  steps: [Object.values(choice.last)[0] ?? stepChoices(motif.key, motif)[7]?.step ?? LOW],
});
