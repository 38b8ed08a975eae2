import { type Fraction, fraction } from '../../../core/foundation/fraction.ts';
import type { Treatment } from '../../../core/motif/treatment.ts';

/** What the pupil chose in the sentences of the cards. */
export interface CardChoice {
  readonly times: number;
  readonly beats: number;
  readonly steps: number;
  /** Steps of the scale, or semitones. */
  readonly by: 'scale' | 'semitone';
  readonly octaves: number;
  readonly factor: keyof typeof FACTORS;
  /** Degree or MIDI pitch of the note that stays; the first note where undefined. */
  readonly axis: number | undefined;
  readonly copies: number;
  readonly slice: 'start' | 'end';
  readonly sliceBeats: number;
  readonly from: number;
  readonly to: number;
  readonly with: string;
  readonly letter: boolean;
  /** Treatments that follow on the card's own. */
  readonly also: readonly Treatment[];
}

/** How much slower or faster. */
export const FACTORS = {
  '3/2': fraction(3, 2),
  '2': fraction(2),
  '3': fraction(3),
  '4': fraction(4),
} as const satisfies Readonly<Record<string, Fraction>>;

export const FIRST_CHOICE: CardChoice = {
  times: 4,
  beats: 1,
  steps: 2,
  by: 'scale',
  octaves: 0,
  factor: '2',
  axis: undefined,
  copies: 2,
  slice: 'start',
  sliceBeats: 2,
  from: 1,
  to: 4,
  with: '',
  letter: true,
  also: [],
};

/** Blanks a card's sentence may have. */
export type Blank =
  | 'times'
  | 'beats'
  | 'steps'
  | 'by'
  | 'octaves'
  | 'factor'
  | 'axis'
  | 'copies'
  | 'slice'
  | 'bars'
  | 'with'
  | 'letter'
  | 'also';

const steps = (by: 'scale' | 'semitone', k: number): Treatment => ({ kind: 'transpose', by, steps: k });

/** What can be added to a card's own treatment, in words. */
export const ALSO: readonly {
  readonly value: string;
  readonly text: string;
  readonly treatment: Treatment;
}[] = [
  { value: 'up1', text: 'a second higher', treatment: steps('scale', 1) },
  { value: 'up2', text: 'a third higher', treatment: steps('scale', 2) },
  { value: 'up4', text: 'a fifth higher', treatment: steps('scale', 4) },
  { value: 'down1', text: 'a second lower', treatment: steps('scale', -1) },
  { value: 'down2', text: 'a third lower', treatment: steps('scale', -2) },
  { value: 'up8', text: 'an octave higher', treatment: { kind: 'octave', octaves: 1 } },
  { value: 'down8', text: 'an octave lower', treatment: { kind: 'octave', octaves: -1 } },
  { value: 'augment', text: 'twice as slow', treatment: { kind: 'augment', factor: fraction(2) } },
  { value: 'diminish', text: 'twice as fast', treatment: { kind: 'diminish', factor: fraction(2) } },
  { value: 'invert', text: 'upside down', treatment: { kind: 'invert', by: 'scale' } },
  { value: 'retrograde', text: 'back to front', treatment: { kind: 'retrograde' } },
];

/** The words of an added treatment. */
export const alsoWords = (treatment: Treatment): string =>
  ALSO.find(a => JSON.stringify(a.treatment) === JSON.stringify(treatment))?.text ?? treatment.kind;
