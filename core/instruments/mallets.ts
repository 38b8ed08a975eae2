import type { InstrumentId } from './instruments.ts';

/** Heads a mallet may have, softest first. */
export const MALLET_IDS = ['soft-yarn', 'medium-yarn', 'rubber', 'hard-plastic', 'brass'] as const;
export type MalletId = (typeof MALLET_IDS)[number];

/** What a head is made of, as it stands before 'mallets'. */
export const MALLET_NAMES: Readonly<Record<MalletId, string>> = {
  'soft-yarn': 'soft yarn',
  'medium-yarn': 'medium yarn',
  rubber: 'rubber',
  'hard-plastic': 'hard plastic',
  brass: 'brass',
};

/**
 * What each instrument's bars bear, the usual one first: brass would dent wood, and hard plastic a marimba's long
 * bars (common practice, no source).
 */
export const MALLETS_FOR: Readonly<Record<InstrumentId, readonly [MalletId, ...MalletId[]]>> = {
  marimba: ['medium-yarn', 'soft-yarn', 'rubber'],
  xylophone: ['hard-plastic', 'rubber', 'medium-yarn', 'soft-yarn'],
  vibraphone: ['medium-yarn', 'soft-yarn', 'rubber', 'hard-plastic'],
  glockenspiel: ['hard-plastic', 'rubber', 'brass'],
};

/**
 * The mallet that is used: the one asked for where the bars bear it, else the usual one.
 * @example
 * malletFor('marimba', 'brass') // => 'medium-yarn'
 */
export const malletFor = (instrument: InstrumentId, asked?: MalletId): MalletId => {
  const borne = MALLETS_FOR[instrument];
  return asked !== undefined && borne.includes(asked) ? asked : borne[0];
};

/**
 * The mallet asked for where the bars bear it and it is not the usual one: only that is written, and kept.
 * @example
 * unusualMallet('glockenspiel', 'brass') // => 'brass'
 * unusualMallet('glockenspiel', 'hard-plastic') // => undefined
 */
export const unusualMallet = (instrument: InstrumentId, asked: MalletId | undefined): MalletId | undefined =>
  malletFor(instrument, asked) === MALLETS_FOR[instrument][0] ? undefined : asked;

/**
 * What stands over a part that is struck with other mallets than the usual ones (common practice, no source).
 * @example
 * malletWords('soft-yarn') // => 'soft yarn mallets'
 */
export const malletWords = (mallet: MalletId): string => `${MALLET_NAMES[mallet]} mallets`;
