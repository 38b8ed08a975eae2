import { fraction, toNumber } from '../../../core/foundation/fraction.ts';
import { tactus } from '../../../core/foundation/metre.ts';
import type { Growth, Target } from '../../../core/growing/growth.ts';
import { INSTRUMENT_IDS } from '../../../core/instruments/instruments.ts';
import type { Motif } from '../../../core/motif/motif.ts';
import type { Treatment } from '../../../core/motif/treatment.ts';
import { MOST_PARTS, type Plan, statementsOf } from '../../../core/plan/plan.ts';
import { onsetAfter, type Statement } from '../../../core/plan/statement.ts';
import type { ENGLISH } from './texts/english.ts';

/** Where what a card makes stands in its picture, against the tune. */
export type Drawn = 'after' | 'with' | 'later' | 'below';

/** A treatment as a picture and five words (`texts`): one press tries it, where it fits by itself. */
export interface PupilCard {
  /** Its texts are found by it. */
  readonly id: keyof typeof ENGLISH.cards;
  /** What happens to the notes, for the picture. */
  readonly treatments: readonly Treatment[];
  readonly drawn: Drawn;
  /** The step it makes; undefined where there is no room for it. */
  readonly growth: (motif: Motif, plan: Plan) => Growth | undefined;
}

/** Often enough: a tune longer than this is no longer heard as one. */
const MOST_TIMES = 16;

/** What the first part plays, in order. */
const tuneOf = (plan: Plan): readonly Statement[] => statementsOf(plan, plan.parts[0]?.id ?? '');

const anotherPart = (plan: Plan): Target | undefined => {
  const unused = INSTRUMENT_IDS.find(id => !plan.parts.some(part => part.instrument === id));
  return plan.parts.length >= MOST_PARTS || unused === undefined ? undefined : { newPart: unused };
};

/** Half of the idea in whole beats, and at least one: a round is heard best when the first voice has gone on a little. */
const halfInBeats = (motif: Motif): number =>
  Math.max(1, Math.floor(toNumber(motif.length) / toNumber(tactus(motif.metre)) / 2));

/** The tune once more after all that was, with something done to it. */
const goingOn =
  (treatments: readonly Treatment[], from: 'first' | 'last' = 'first', times = 1) =>
  (motif: Motif, plan: Plan): Growth | undefined => {
    const tune = tuneOf(plan);
    const [first, last] = [tune[0], tune.at(-1)];
    if (first === undefined || last === undefined) return undefined;
    const statement = (from === 'first' ? first : last).id;
    const onset = onsetAfter(motif, last);
    return { kind: 'state', statement, treatments, to: { part: first.part }, onset, times };
  };

const UP: Treatment = { kind: 'transpose', by: 'scale', steps: 1 };
const THIRD: Treatment = { kind: 'transpose', by: 'scale', steps: 2 };
const TWO = fraction(2);

/** The cards, four at a time, in the order a pupil meets them. */
export const PUPIL_CARDS: readonly PupilCard[] = [
  {
    id: 'again',
    treatments: [],
    drawn: 'after',
    growth: (_motif, plan) => {
      const last = tuneOf(plan).at(-1);
      return last === undefined || last.times * 2 > MOST_TIMES
        ? undefined
        : { kind: 'repeat', statement: last.id, times: last.times * 2 };
    },
  },
  {
    id: 'canon',
    treatments: [],
    drawn: 'later',
    growth: (motif, plan) => {
      const first = tuneOf(plan)[0];
      const to = anotherPart(plan);
      return first === undefined || to === undefined
        ? undefined
        : { kind: 'canon', statement: first.id, to, beats: halfInBeats(motif) };
    },
  },
  {
    id: 'slow',
    treatments: [{ kind: 'augment', factor: TWO }],
    drawn: 'below',
    growth: goingOn([{ kind: 'augment', factor: TWO }]),
  },
  {
    id: 'upside-down',
    treatments: [{ kind: 'invert', by: 'scale' }],
    drawn: 'after',
    growth: goingOn([{ kind: 'invert', by: 'scale' }]),
  },
  {
    id: 'together',
    treatments: [THIRD],
    drawn: 'with',
    growth: (_motif, plan) => {
      const first = tuneOf(plan)[0];
      const to = anotherPart(plan);
      return first === undefined || to === undefined
        ? undefined
        : { kind: 'second-part', statement: first.id, to, bar: 1, also: [THIRD] };
    },
  },
  {
    id: 'backwards',
    treatments: [{ kind: 'retrograde' }],
    drawn: 'after',
    growth: goingOn([{ kind: 'retrograde' }]),
  },
  {
    id: 'climb',
    treatments: [UP],
    drawn: 'after',
    growth: goingOn([UP], 'last'),
  },
  {
    id: 'fast',
    treatments: [{ kind: 'diminish', factor: TWO }],
    drawn: 'below',
    growth: goingOn([{ kind: 'diminish', factor: TWO }], 'first', 2),
  },
];

/** Whether a card only moves pitches: a rhythm without any would come out as it was. */
export const isOfPitches = ({ treatments }: Pick<PupilCard, 'treatments'>): boolean =>
  treatments.length > 0 && treatments.every(({ kind }) => kind === 'transpose' || kind === 'invert');

/** How many cards are shown at a time. */
export const AT_A_TIME = 4;

/** The cards of one turn; turns come round again. @param turn from 0 */
export const cardsOfTurn = (turn: number): readonly PupilCard[] => {
  const turns = Math.ceil(PUPIL_CARDS.length / AT_A_TIME);
  const from = (turn % turns) * AT_A_TIME;
  return PUPIL_CARDS.slice(from, from + AT_A_TIME);
};
