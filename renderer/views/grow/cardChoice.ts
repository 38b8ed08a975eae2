import { type Fraction, fraction } from '../../../core/foundation/fraction.ts';
import type { OtherKey } from '../../../core/growing/changeKey.ts';
import type { DroneFigure } from '../../../core/plan/accompaniment.ts';
import type { Ornament } from '../../../core/motif/vary.ts';
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
  /** How a drone's notes are struck. */
  readonly figure: DroneFigure;
  /** Lower note of a drone or root of a chord: a degree of the seven-note scale; the tonic where undefined. */
  readonly low: number | undefined;
  /** Steps from the lower note of a drone to its other one; 0 for one note alone. */
  readonly other: number;
  /** Steps from a chord's root to its further notes. */
  readonly chord: keyof typeof CHORDS;
  /** How many bars it lasts; as many as the statement where undefined. */
  readonly forBars: number | undefined;
  /** The last note of each part by its id, a degree of the seven-note scale. */
  readonly last: Readonly<Record<string, number>>;
  /** The bar from which another key holds; a letter's, or the last bar, where undefined. */
  readonly keyBar: number | undefined;
  readonly otherKey: OtherKey;
  /** The bar from which another metre holds, likewise, and that metre in words; 3/4 where undefined. */
  readonly metreBar: number | undefined;
  readonly otherMetre: string | undefined;
  /** What a variation changes. */
  readonly vary: 'pitches' | 'lengths' | 'ornament';
  /** For each note (or moment) the one whose pitch (or length) it takes; as they are where undefined. */
  readonly order: readonly number[] | undefined;
  readonly ornaments: readonly Ornament[];
  /** Treatments that follow on the card's own. */
  readonly also: readonly Treatment[];
}

/** Further notes of a chord over its root, in steps; two mallets strike two notes at once. */
export const CHORDS = {
  fifth: [4],
  third: [2],
  triad: [2, 4],
} as const satisfies Readonly<Record<string, readonly number[]>>;

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
  figure: 'simple',
  low: undefined,
  other: 4,
  chord: 'fifth',
  forBars: undefined,
  last: {},
  keyBar: undefined,
  otherKey: { moved: 7 },
  metreBar: undefined,
  otherMetre: undefined,
  vary: 'pitches',
  order: undefined,
  ornaments: [],
  also: [],
};

/** The most times that a card offers. */
export const MOST_OFFERED = 16;

/** How many times *Repetition* is first tried, where the statement is stated so often already: four, then twice as often. */
export const nextTimes = (times: number): number =>
  times < FIRST_CHOICE.times ? FIRST_CHOICE.times : Math.min(MOST_OFFERED, 2 * times);

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
  | 'figure'
  | 'low'
  | 'other'
  | 'chord'
  | 'forBars'
  | 'last'
  | 'otherKey'
  | 'otherMetre'
  | 'vary'
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
