import type { Fraction } from '../foundation/fraction.ts';
import type { Result } from '../foundation/result.ts';
import type { BarNumber } from '../foundation/units.ts';
import type { InstrumentId } from '../instruments/instruments.ts';
import type { Treatment } from '../motif/treatment.ts';
import type { Accompaniment } from '../plan/accompaniment.ts';
import type { Plan } from '../plan/plan.ts';
import type { Metre } from '../foundation/metre.ts';
import type { OtherKey } from './changeKey.ts';
import type { BarSpan, SectionCopy } from './sections.ts';

/** Where a new statement goes: a part that is there, or a new one on an instrument. */
export type Target = { readonly part: string } | { readonly newPart: InstrumentId };

/** What happens where a part already plays: it stops there, or the new statement waits for it. */
export type OnConflict = 'cut' | 'postpone';

/** Everything a pupil can do to a piece in one step, as data. */
export type Growth =
  | { readonly kind: 'repeat'; readonly statement: string; readonly times: number }
  | {
      readonly kind: 'second-part';
      readonly statement: string;
      readonly to: Target;
      readonly bar: BarNumber;
      readonly octaves?: number;
      /** What else is done to it. */
      readonly also?: readonly Treatment[];
    }
  | {
      readonly kind: 'canon';
      readonly statement: string;
      readonly to: Target;
      readonly beats: number;
      readonly octaves?: number;
      readonly also?: readonly Treatment[];
    }
  | {
      readonly kind: 'imitation';
      readonly statement: string;
      readonly to: Target;
      readonly beats: number;
      readonly steps: number;
      readonly also?: readonly Treatment[];
    }
  | { readonly kind: 'change'; readonly statement: string; readonly treatments: readonly Treatment[] }
  | {
      readonly kind: 'sequence';
      readonly statement: string;
      readonly steps: number;
      readonly copies: number;
      /** Steps of the scale where left out. */ readonly by?: 'scale' | 'semitone';
    }
  | {
      readonly kind: 'motif';
      readonly statement: string;
      /** Which motif; absent for the first. */
      readonly motif?: string;
      readonly onset: Fraction;
      readonly to: Target;
    }
  | {
      readonly kind: 'state';
      readonly statement: string;
      readonly treatments: readonly Treatment[];
      readonly to: Target;
      readonly onset: Fraction;
      readonly times?: number;
    }
  | {
      readonly kind: 'accompany';
      readonly statement: string;
      readonly what: Accompaniment;
      readonly to: Target;
      /** The bar it begins in, from 1. */
      readonly bar: BarNumber;
      /** How many bars, 1 or more. */
      readonly bars: number;
    }
  | {
      readonly kind: 'ending';
      readonly statement: string;
      /** What each part plays last, by its id: a degree of the seven-note scale. */
      readonly steps: Readonly<Record<string, number>>;
    }
  | {
      readonly kind: 'key';
      readonly statement: string;
      /** The bar it begins in, from 2. */
      readonly bar: BarNumber;
      readonly to: OtherKey;
    }
  | {
      readonly kind: 'metre';
      readonly statement: string;
      /** The bar it begins in, from 2. */
      readonly bar: BarNumber;
      readonly to: Metre;
    }
  | ({ readonly kind: 'section' } & SectionCopy)
  | ({ readonly kind: 'exchange'; readonly pair: readonly [string, string] } & BarSpan)
  | { readonly kind: 'move'; readonly statement: string; readonly onset: Fraction; readonly part?: string };

/** The plan after a step, and the statement made or changed. */
export type Grown = Result<{ plan: Plan; statement: string }>;
