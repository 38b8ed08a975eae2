import type { Take } from '../../take/take.ts';
import { toNumber } from '../../foundation/fraction.ts';
import { tactus } from '../../foundation/metre.ts';
import { intAt, realAt } from '../model/at.ts';
import type { Hints, SeenPage } from '../model/reading.ts';
import { ALTERNATIVES } from '../onBeat/constants.ts';
import { evidenceOf, obeying } from '../onBeat/evidence.ts';
import type { Beat, Candidate } from '../onBeat/onBeat.ts';
import {
  cellRowFor,
  placeOnBeat,
  type Players,
  PLAYERS_ON_FITTED_BEAT,
  PLAYERS_TO_A_CLICK,
} from '../onBeat/placeOnBeat.ts';
import { placeAnywhere } from '../onBeat/placeSomehow.ts';
import { RHYTHM } from '../rhythm/constants.ts';
import { STRAIGHT, type Swinging } from '../rhythm/swings.ts';
import { vocabulariesOf } from '../rhythm/vocabularies.ts';
import { type Lattice, latticeOf, TICKS, toTicks } from '../search/lattice.ts';
import { NO_PIN, type PagePrior } from '../search/cells.ts';
import { LEAVES, LEAVES_NEAR } from './constants.ts';
import type { ByPage } from './byPage.ts';
import { followersOf } from './sameFigure.ts';

/**
 * A page read again after notes of it were put elsewhere: the beats are the page's own, and every other
 * note stays unless it is in the way, or is the same figure as one that was put right.
 * @returns cheapest first, never empty
 */
export const readPageAgain = (
  hints: Hints,
  page: SeenPage,
  { clean, stands }: ByPage,
  heard: boolean,
): Candidate[] => {
  const beat = beatOf(page);
  const struck = obeying(evidenceOf(clean, hints), beat.map);
  const n = struck.events;
  const row = cellRowFor(beat.lattice, beat.map, realAt(struck.at, 0), realAt(struck.at, n - 1), [
    ...stands,
    ...struck.pin,
  ]);
  const grid = hints.grid ?? 'automatic';
  // A pin may lie outside the grid that was chosen, and so may the page.
  const vocabularies =
    grid === 'automatic' ? vocabulariesOf(grid) : [...vocabulariesOf(grid), ...vocabulariesOf('automatic')];
  const usual = heard ? PLAYERS_TO_A_CLICK : PLAYERS_ON_FITTED_BEAT;
  const players: Players = { ...usual, swing: swingOf(page) };
  const read = (prior: PagePrior): Candidate[] => {
    const evidence = { ...struck, page: prior };
    const found = placeOnBeat(row, evidence, vocabularies, [], ALTERNATIVES, players);
    const held = found.length > 0 ? found : [placeAnywhere(row, evidence, beat.map, grid)];
    const period = page.period === undefined ? {} : { period: page.period };
    return held.map(f => ({ found: f, cost: f.cost, beat, row, evidence, ...period }));
  };
  const leaves = pricesOfLeaving(stands, struck.pin, beat.lattice);
  const alone = read({ stands, leaves, follows: new Int32Array(n).fill(NO_PIN) });
  const [best] = alone;
  if (best === undefined || best.found.forced === true) return alone;
  const follows = followersOf(stands, best.found.ticks, struck.pin, beat.lattice);
  return follows.some(t => t !== NO_PIN) ? read({ stands, leaves, follows }) : alone;
};

const beatOf = (page: SeenPage): Beat => ({
  lattice: latticeOf(page.metre),
  map: {
    beats: Float64Array.from(page.beats),
    step: Math.round(toNumber(tactus(page.metre)) * TICKS),
    zero: page.firstBeat,
  },
});

/** A note in a beat where another was put elsewhere may have to make room; the others stay. */
const pricesOfLeaving = (stands: Int32Array, pin: Int32Array, lattice: Lattice): Float64Array => {
  const cell = lattice.cells[0]?.length ?? TICKS / 4;
  const touched = new Set<number>();
  pin.forEach((p, i) => {
    if (p === NO_PIN || p === stands[i]) return;
    touched.add(Math.floor(p / cell));
    if (stands[i] !== NO_PIN) touched.add(Math.floor(intAt(stands, i) / cell));
  });
  return Float64Array.from(stands, t => (touched.has(Math.floor(t / cell)) ? LEAVES_NEAR : LEAVES));
};

/** Whether the beat was heard or tapped, not found in the strikes. */
export const beatWasHeard = (take: Take, hints: Hints): boolean =>
  (hints.taps ?? []).length >= 2 || (take.click !== undefined && hints.free !== true);

const swingOf = (page: SeenPage): Swinging => {
  if (page.swing === undefined) return STRAIGHT;
  const of = toTicks(page.swing.unit) === TICKS / 8 ? 'half' : 'quarter';
  return { ratio: page.swing.ratio, of, cost: RHYTHM.swing[of] };
};
