import type { Fraction } from '../../../core/foundation/fraction.ts';
import type { GrowStep, Target } from '../../../core/parts/grow.ts';
import type { Treatment } from '../../../core/motif/treatment.ts';

/** What the pupil chose in a card's sentence. */
export interface CardChoice {
  readonly times: number;
  readonly beats: number;
  readonly steps: number;
  readonly octaves: number;
}

export const FIRST_CHOICE: CardChoice = { times: 4, beats: 1, steps: 2, octaves: 0 };

/** A treatment as a card in plain words. */
export interface Card {
  readonly id: string;
  /** The trade's word. */
  readonly title: string;
  /** What it does, for somebody of 12. */
  readonly words: string;
  /** Which blanks its sentence has. */
  readonly blanks: readonly (keyof CardChoice)[];
  /** Always enters in another part, or may also change the statement where it stands. */
  readonly place: 'here' | 'other' | 'either';
  /** What happens to the notes, for the miniature. */
  readonly treatments: (choice: CardChoice) => readonly Treatment[];
  readonly step: (
    statement: string,
    choice: CardChoice,
    to: Target | 'here',
    at: Fraction,
    bar: number,
  ) => GrowStep;
}

const TWO: Fraction = { n: 2, d: 1 };

const changing = (
  id: string,
  title: string,
  words: string,
  blanks: readonly (keyof CardChoice)[],
  treatment: (choice: CardChoice) => Treatment,
): Card => ({
  id,
  title,
  words,
  blanks,
  place: 'either',
  treatments: choice => [treatment(choice)],
  step: (statement, choice, to, at) =>
    to === 'here'
      ? { kind: 'change', statement, treatments: [treatment(choice)] }
      : { kind: 'state', statement, treatments: [treatment(choice)], to, at },
});

/** The cards of the development pane, in the order a class meets them. */
export const CARDS: readonly Card[] = [
  {
    id: 'repetition',
    title: 'Repetition',
    words: 'The idea again, straight after itself.',
    blanks: ['times'],
    place: 'here',
    treatments: () => [],
    step: (statement, choice) => ({ kind: 'repeat', statement, times: choice.times }),
  },
  {
    id: 'second-part',
    title: 'Second part',
    words: 'Another instrument joins in and plays the same.',
    blanks: [],
    place: 'other',
    treatments: () => [],
    step: (statement, _choice, to, _at, bar) => ({
      kind: 'second-part',
      statement,
      to: to === 'here' ? { part: '' } : to,
      bar,
    }),
  },
  {
    id: 'canon',
    title: 'Canon',
    words: 'The same tune, starting later, like a round.',
    blanks: ['beats'],
    place: 'other',
    treatments: () => [],
    step: (statement, choice, to) => ({
      kind: 'canon',
      statement,
      to: to === 'here' ? { part: '' } : to,
      beats: choice.beats,
    }),
  },
  {
    id: 'imitation',
    title: 'Imitation',
    words: 'An answer: starting later, and higher or lower.',
    blanks: ['beats', 'steps'],
    place: 'other',
    treatments: choice => [{ kind: 'transpose', by: 'scale', steps: choice.steps }],
    step: (statement, choice, to) => ({
      kind: 'imitation',
      statement,
      to: to === 'here' ? { part: '' } : to,
      beats: choice.beats,
      steps: choice.steps,
    }),
  },
  changing(
    'steps',
    'Up or down the steps',
    'The same shape, starting on another bar of the instrument.',
    ['steps'],
    choice => ({
      kind: 'transpose',
      by: 'scale',
      steps: choice.steps,
    }),
  ),
  changing('augmentation', 'Augmentation', 'Every note lasts twice as long. It sounds slower.', [], () => ({
    kind: 'augment',
    factor: TWO,
  })),
  changing(
    'diminution',
    'Diminution',
    'Every note lasts half as long. Two fit in the time of one.',
    [],
    () => ({
      kind: 'diminish',
      factor: TWO,
    }),
  ),
  changing('inversion', 'Inversion', 'Upside down: where the tune went up, it goes down.', [], () => ({
    kind: 'invert',
    by: 'scale',
  })),
  changing('retrograde', 'Retrograde', 'Back to front: the last note comes first.', [], () => ({
    kind: 'retrograde',
  })),
];
