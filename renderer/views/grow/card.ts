import type { Fraction } from '../../../core/foundation/fraction.ts';
import type { Growth, Target } from '../../../core/growing/growth.ts';
import type { Motif, Passage } from '../../../core/motif/motif.ts';
import type { Treatment } from '../../../core/motif/treatment.ts';
import type { Accompaniment } from '../../../core/plan/accompaniment.ts';
import type { Plan } from '../../../core/plan/plan.ts';
import type { Statement } from '../../../core/plan/statement.ts';
import type { Blank, CardChoice } from './cardChoice.ts';

/** Where a card's step goes. */
export interface CardPlace {
  readonly motif: Motif;
  readonly plan: Plan;
  readonly statement: Statement;
  readonly to: Target | 'here';
  /** The bar it begins in, from 1, and the place of that bar. */
  readonly bar: number;
  readonly at: Fraction;
}

/** A treatment as a card in plain words. */
export interface Card {
  readonly id: string;
  /** The trade's word. */
  readonly title: string;
  /** What it does, for somebody of 12. */
  readonly words: string;
  /** More of it, on the concept card: what to listen for. */
  readonly listen: string;
  /** Which blanks its sentence has. */
  readonly blanks: readonly Blank[];
  /** What stands in them at first, where it is not the usual. */
  readonly usual?: Partial<CardChoice>;
  /** Changes the statement where it stands, enters in another part, may do either, or works on whole bars. */
  readonly place: 'here' | 'other' | 'either' | 'bars';
  /** What happens to the notes, for the miniature. */
  readonly treatments: (choice: CardChoice, phrase: Passage, motif: Motif) => readonly Treatment[];
  readonly step: (choice: CardChoice, place: CardPlace) => Growth;
  /** What the step is called when it is done; the title where that says enough. */
  readonly done?: (choice: CardChoice, place: CardPlace) => string;
  /** A bar of accompaniment of its own, where it is not made from the motif's notes. */
  readonly accompaniment?: (choice: CardChoice, motif: Motif, from: Statement) => Accompaniment;
}
