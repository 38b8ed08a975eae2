import type { Grid } from '../model/reading.ts';
import type { Vocabulary } from './prior.ts';
import { DOTTED_FROM, RHYTHM } from './constants.ts';

const v = (name: string, two: Vocabulary['two'], three: Vocabulary['three'], cost = 0): Vocabulary => ({
  name,
  two,
  three,
  cost,
});

/** What a phrase may use when the teacher has set no grid, with its cost in nats. */
const automatic = (price: typeof RHYTHM.vocabulary): readonly Vocabulary[] => [
  v('halves', [1, 2], [1, 3], price.halves),
  v('quarters', [1, 2, 4], [1, 3, 6], price.quarters),
  v('thirds', [1, 2, 3], [1, 3, 2], price.thirds),
  v('quarters and thirds', [1, 2, 4, 3], [1, 3, 6, 2], price.both),
  v('eighths', [1, 2, 4, 8], [1, 3, 6], price.eighths),
  v('everything', [1, 2, 4, 3, 6, 8], [1, 3, 6, 2], price.everything),
];

const ON_KNOWN_BEAT = automatic(RHYTHM.vocabulary);
const ON_OPEN_BEAT = automatic(RHYTHM.vocabularyOnOpenBeat);

const CHOSEN: Readonly<Record<Exclude<Grid, 'automatic'>, readonly Vocabulary[]>> = {
  beat: [v('beats', [1], [1])],
  half: [v('halves', [1, 2], [1, 3])],
  quarter: [v('quarters', [1, 2, 4], [1, 3, 6, 2])],
  eighth: [v('eighths', [1, 2, 4, 8], [1, 3, 6, 12, 2, 4])],
  triplet: [v('thirds', [1, 2, 3], [1, 3, 2])],
  sextuplet: [v('sixths', [1, 2, 4, 3, 6], [1, 3, 6, 2])],
};

/**
 * Beats of two for a player who swings more than the teacher's tolerance: long and short are written
 * out, as triplets, or as dotted figures where the long note is nearer three times the short one.
 * @param ratio long to short, 1 or more
 * @example
 * writtenOut(2)[0]?.name // => 'thirds'
 * writtenOut(3)[0]?.name // => 'quarters'
 */
export const writtenOut = (ratio: number): readonly Vocabulary[] =>
  ratio < DOTTED_FROM ? TRIPLET_LIKE : DOTTED;

const TRIPLET_LIKE = [v('thirds', [1, 3], [1, 3, 2]), v('sixths', [1, 3, 6], [1, 3, 2])];
const DOTTED = [v('quarters', [1, 4], [1, 3, 6])];

/**
 * The vocabularies to try for a grid, with the beat known or open.
 * @example vocabulariesOf('beat').map(v => v.name) // => ['beats']
 */
export const vocabulariesOf = (grid: Grid, beatOpen = false): readonly Vocabulary[] =>
  grid === 'automatic' ? (beatOpen ? ON_OPEN_BEAT : ON_KNOWN_BEAT) : CHOSEN[grid];
