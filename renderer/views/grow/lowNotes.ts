import { lastNotes } from '../../../core/growing/ending.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import { type Accompaniment, stepChoices } from '../../../core/plan/accompaniment.ts';
import { firstPlan, type Plan } from '../../../core/plan/plan.ts';
import type { Statement } from '../../../core/plan/statement.ts';
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

/** The last note of a part: as chosen, or the tonic nearest to what it plays last. */
export const lastOf = (choice: CardChoice, motif: Motif, plan: Plan, part: string): number =>
  choice.last[part] ?? lastNotes(motif, plan, part).usual.step;

/** The ending as its miniature shows it: the last note chosen for the statement's part, or the usual one. */
export const endingOf = (choice: CardChoice, motif: Motif, from: Statement): Accompaniment => {
  const alone: Plan = { ...firstPlan('xylophone', 90), statements: [{ ...from, part: 'p1' }] };
  return { kind: 'ending', steps: [choice.last[from.part] ?? lastNotes(motif, alone, 'p1').usual.step] };
};
