import { intAt } from '../model/at.ts';
import type { Grid } from '../model/reading.ts';
import type { Vocabulary } from '../rhythm/prior.ts';
import { type Swinging, swingsOf } from '../rhythm/swings.ts';
import { vocabulariesOf } from '../rhythm/vocabularies.ts';
import { type CellRow, type Evidence, NO_PIN } from '../search/cells.ts';
import { ticksAt, type TimeMap } from '../search/timeMap.ts';
import { ALTERNATIVES, PLAYER } from './constants.ts';
import { performanceOf, placeOnBeat, type Placement, type Players } from './placeOnBeat.ts';

/** Divisions of a beat that a grid reaches; strikes too fast for any rhythm are put on these, several to a place if need be. */
const FINEST: Readonly<Record<Grid, number>> = {
  beat: 1,
  half: 2,
  quarter: 4,
  eighth: 8,
  triplet: 6,
  sextuplet: 12,
  automatic: 8,
};

/**
 * The last resort, for strikes that no rhythm of the grid can hold (a roll, a grid too coarse, pins that
 * cross): each on the nearest place of the grid, pinned ones where the teacher wants them.
 */
export const placeAnywhere = (row: CellRow, evidence: Evidence, map: TimeMap, grid: Grid): Placement => {
  const cell = intAt(row.start, 1) - intAt(row.start, 0);
  const parts = row.parts[0] === 3 && grid !== 'beat' ? Math.max(3, (FINEST[grid] * 3) / 2) : FINEST[grid];
  const step = Math.max(1, Math.round(cell / parts));
  const ticks = new Int32Array(evidence.events);
  evidence.at.forEach((t, i) => {
    const stands = evidence.page === undefined ? NO_PIN : intAt(evidence.page.stands, i);
    const own = stands === NO_PIN ? Math.round(ticksAt(map, t) / step) * step : stands;
    const pin = intAt(evidence.pin, i);
    ticks[i] = pin === NO_PIN ? own : pin;
  });
  const [vocabulary] = vocabulariesOf(grid);
  if (vocabulary === undefined) throw new RangeError('a grid without a vocabulary');
  const [straight] = swingsOf('none');
  const swing = straight ?? { ratio: 1, of: 'half', cost: 0 };
  return {
    ticks,
    cost: 0,
    vocabulary,
    swing,
    performance: performanceOf(PLAYER.spread, 0, swing),
    forced: true,
  };
};

/**
 * Pins are law, and so is the grid: where the grid has no such place for a pin all divisions are tried;
 * where no rhythm holds the strikes they are put on the nearest places.
 */
export const placeSomehow = (
  row: CellRow,
  evidence: Evidence,
  map: TimeMap,
  grid: Grid,
  vocabularies: readonly Vocabulary[],
  swings: readonly Swinging[],
  players: Players,
): Placement[] => {
  const found = placeOnBeat(row, evidence, vocabularies, swings, ALTERNATIVES, players);
  if (found.length > 0) return found;
  const wide = evidence.pin.some(p => p !== NO_PIN)
    ? placeOnBeat(row, evidence, vocabulariesOf('automatic'), swings, ALTERNATIVES, players)
    : [];
  return wide.length > 0 ? wide : [placeAnywhere(row, evidence, map, grid)];
};
