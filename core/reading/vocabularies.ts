import { PARAMETERS } from './parameters.ts';
import type { Grid } from './reading.ts';
import type { Vocabulary } from './prior.ts';

const v = (
  name: string,
  two: Vocabulary['two'],
  three: Vocabulary['three'],
  cost: () => number,
): Vocabulary => ({
  name,
  two,
  three,
  get cost() {
    return cost();
  },
});

const P = PARAMETERS.vocabulary;
/** What a phrase may use when the teacher has set no grid, with its cost in nats. */
const AUTOMATIC: readonly Vocabulary[] = [
  v('halves', [1, 2], [1, 3], () => P.halves),
  v('quarters', [1, 2, 4], [1, 3, 6], () => P.quarters),
  v('thirds', [1, 2, 3], [1, 3, 2], () => P.thirds),
  v('quarters and thirds', [1, 2, 4, 3], [1, 3, 6, 2], () => P.both),
  v('eighths', [1, 2, 4, 8], [1, 3, 6, 12], () => P.eighths),
  v('everything', [1, 2, 4, 3, 6, 8], [1, 3, 6, 2, 12], () => P.everything),
];

const CHOSEN: Readonly<Record<Exclude<Grid, 'automatic'>, readonly Vocabulary[]>> = {
  beat: [v('beats', [1], [1], () => 0)],
  half: [v('halves', [1, 2], [1, 3], () => 0)],
  quarter: [v('quarters', [1, 2, 4], [1, 3, 6], () => 0)],
  eighth: [v('eighths', [1, 2, 4, 8], [1, 3, 6, 12], () => 0)],
  triplet: [v('thirds', [1, 2, 3], [1, 3, 2], () => 0)],
  sextuplet: [v('sixths', [1, 2, 4, 3, 6], [1, 3, 6, 2], () => 0)],
};

/** The vocabularies to try for a grid. */
export const vocabulariesOf = (grid: Grid): readonly Vocabulary[] =>
  grid === 'automatic' ? AUTOMATIC : CHOSEN[grid];
