import { z } from '../foundation/schema.ts';
import type { Fraction } from '../foundation/fraction.ts';
import type { NoteName } from '../foundation/enharmonic.ts';
import { type Key, MODE_NAMES } from '../foundation/key.ts';
import type { Metre } from '../foundation/metre.ts';
import { LETTERS } from '../foundation/pitch.ts';
import { INSTRUMENTS, type InstrumentId } from '../instruments/instruments.ts';
import { MALLET_IDS } from '../instruments/mallets.ts';
import {
  FINEST_GRID,
  MOST_FIGURE,
  MOST_LETTERS,
  MOST_STORED_NOTES,
  MOST_SECONDS,
  MOST_SEMIBREVES,
  MOST_STEPS,
  TEMPI,
} from './limits.ts';

// What the shapes of saved things are made of, each figure in its bounds: see `limits.ts`.

/**
 * `satisfies` over the keys of each type makes a forgotten field a compile error; strict objects make an unknown one a
 * refusal, so that nothing is ever dropped in silence.
 */
export type Fields<T> = Readonly<Record<keyof T, z.ZodType>>;
export const textShape = z.string().max(MOST_LETTERS);
export const numberShape = z.number();
export const secondsShape = z.number().min(-MOST_SECONDS).max(MOST_SECONDS);
export const tempoShape = z.number().min(TEMPI.least).max(TEMPI.most);
export const wholeShape = z.int().min(-MOST_FIGURE).max(MOST_FIGURE);
export const pitchShape = z.int().min(0).max(127);
export const strikeIndexShape = z.int().min(0).max(MOST_FIGURE);
export const barShape = z
  .int()
  .min(-1)
  .max(MOST_SEMIBREVES * 16);
export const fractionShape = z
  .strictObject({ n: wholeShape, d: z.int().min(1).max(MOST_FIGURE) } satisfies Fields<Fraction>)
  .refine(({ n, d }) => Math.abs(n) <= MOST_SEMIBREVES * d, 'beyond the longest piece')
  .refine(({ d }) => FINEST_GRID % d === 0, 'a place that no page has');
/** As many as a take may have strikes. */
export const longListOf = <T extends z.ZodType>(one: T): z.ZodArray<T> => z.array(one).max(MOST_STORED_NOTES);
/** As many as a piece may have steps. */
export const listOf = <T extends z.ZodType>(one: T): z.ZodArray<T> => z.array(one).max(MOST_STEPS);
export const metreShape = z.strictObject({
  upper: z.int().min(1).max(24),
  lower: z.union([z.literal(1), z.literal(2), z.literal(4), z.literal(8), z.literal(16)]),
  groups: z.array(z.int().min(1).max(24)).max(24).exactOptional(),
} satisfies Fields<Metre>);
/** A key, as pieces and class lists store it. */
export const keyShape = z.strictObject({
  tonic: z.strictObject({ letter: z.enum(LETTERS), alter: z.int().min(-2).max(2) }),
  mode: z.enum(MODE_NAMES),
} satisfies Fields<Key>);
export const instrumentShape = z.enum(Object.keys(INSTRUMENTS) as InstrumentId[]);
export const malletShape = z.enum(MALLET_IDS);
export const noteNameShape = z.strictObject({
  letter: z.enum(LETTERS),
  alter: z.int().min(-2).max(2),
} satisfies Fields<NoteName>);
