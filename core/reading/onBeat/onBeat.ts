import { intAt, realAt } from '../model/at.ts';
import type { CleanTake } from '../../take/clean.ts';
import type { Take } from '../../take/take.ts';
import {
  performanceOf,
  type Placement,
  PLAYERS_ON_FITTED_BEAT,
  PLAYERS_OF_REPEATS,
  placeOnBeat,
  type Players,
  cellRowFor,
  PLAYERS_TO_A_CLICK,
} from './placeOnBeat.ts';
import { type Swinging, mostEven, swingsOf } from '../rhythm/swings.ts';
import { type Lattice, TICKS, toTicks } from '../search/lattice.ts';
import { type Evidence, NO_PIN, type CellRow } from '../search/moveGraph.ts';

import type { Grid, Hints } from '../model/reading.ts';
import { readRepeats } from './readRepeats.ts';
import { findRepeats } from '../repeats/repeats.ts';
import { secondsAt, ticksAt, type TimeMap } from '../search/timeMap.ts';
import type { Vocabulary } from '../rhythm/prior.ts';
import { vocabulariesOf, writtenOut } from '../rhythm/vocabularies.ts';
import { ALTERNATIVES, ERRED, PLAYER } from './constants.ts';

export interface Beat {
  /** Whether the beat was found, not given. */
  readonly open?: boolean;
  readonly lattice: Lattice;
  readonly map: TimeMap;
}

/** Each event seen once. */
const single = (at: Float64Array, pin: Int32Array): Evidence => ({
  events: at.length,
  from: Int32Array.from({ length: at.length + 1 }, (_, i) => i),
  at,
  shift: new Int32Array(at.length),
  pin,
});

export const evidenceOf = (clean: CleanTake, hints: Hints): Evidence => {
  const pin = new Int32Array(clean.events.length).fill(NO_PIN);
  const place = new Map((hints.pins ?? []).map(p => [p.strike, toTicks(p.onset)]));
  clean.events.forEach((e, i) => {
    for (const s of e.strikes) pin[i] = place.get(s) ?? pin[i] ?? NO_PIN;
  });
  return single(
    Float64Array.from(clean.events, e => e.at),
    pin,
  );
};

/**
 * Evidence that obeys the pins: a strike put far from where it fell counts as if it had fallen there,
 * so that everything else is read as well as before. A pin that crosses a neighbour is left to the
 * search.
 */
const obeying = (evidence: Evidence, map: TimeMap): Evidence => {
  if (!evidence.pin.some(p => p !== NO_PIN)) return evidence;
  const at = evidence.at.slice();
  evidence.pin.forEach((pin, i) => {
    if (pin === NO_PIN) return;
    const wanted = secondsAt(map, pin);
    const between = (at[i - 1] ?? -Infinity) < wanted && wanted < (evidence.at[i + 1] ?? Infinity);
    if (between && Math.abs(wanted - realAt(evidence.at, i)) > ERRED) at[i] = wanted;
  });
  return { ...evidence, at };
};

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
const placeAnywhere = (row: CellRow, evidence: Evidence, map: TimeMap, grid: Grid): Placement => {
  const cell = intAt(row.start, 1) - intAt(row.start, 0);
  const parts = row.parts[0] === 3 && grid !== 'beat' ? Math.max(3, (FINEST[grid] * 3) / 2) : FINEST[grid];
  const step = Math.max(1, Math.round(cell / parts));
  const ticks = new Int32Array(evidence.events);
  evidence.at.forEach((t, i) => {
    const own = Math.round(ticksAt(map, t) / step) * step;
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
const placeSomehow = (
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

interface OnBeat {
  readonly found: readonly Placement[];
  readonly row: CellRow;
  readonly evidence: Evidence;
  readonly period?: number;
}

/**
 * The ratio a phrase is swung at, where that is more than the tolerance the teacher chose; undefined
 * where it is within it, where the grid is chosen too, or where beats divide in three anyway. Without
 * this an uneven player would only seem to be an unsteady one, and be written even.
 */
const swingBeyond = (row: CellRow, evidence: Evidence, hints: Hints, beat: Beat): number | undefined => {
  const tolerance = hints.swingTolerance;
  if (tolerance === undefined || tolerance === 'high') return undefined;
  if ((hints.grid ?? 'automatic') !== 'automatic' || beat.lattice.cells[0]?.parts === 3) return undefined;
  const [freely] = placeOnBeat(row, evidence, vocabulariesOf('automatic'), swingsOf('high'), 1);
  if (freely?.swing.of !== 'half') return undefined;
  return freely.swing.ratio > mostEven(tolerance) + 0.2 ? freely.swing.ratio : undefined;
};

/** Reads on a known beat, alone and, when the idea comes again, all repeats together; best first. */
export const readOnBeat = (take: Take, clean: CleanTake, hints: Hints, beat: Beat): OnBeat => {
  const { lattice, map } = beat;
  const struck = evidenceOf(clean, hints);
  const evidence = beat.open === true ? struck : obeying(struck, map);
  const n = evidence.events;
  const row = cellRowFor(lattice, map, realAt(evidence.at, 0), realAt(evidence.at, n - 1));
  const swings = swingsOf(hints.swingTolerance ?? 'medium');
  const beyond = swingBeyond(row, evidence, hints, beat);
  const vocabularies =
    beyond === undefined ? vocabulariesOf(hints.grid ?? 'automatic', beat.open ?? false) : writtenOut(beyond);
  const readAlone = (): Placement[] =>
    placeSomehow(
      row,
      evidence,
      map,
      hints.grid ?? 'automatic',
      vocabularies,
      swings,
      beat.open === true ? PLAYERS_ON_FITTED_BEAT : PLAYERS_TO_A_CLICK,
    );
  const places = evidence.at.map(t => ticksAt(map, t));
  const beatTicks = lattice.cells[0]?.length ?? TICKS / 4;
  const repeats = findRepeats(take, clean.events, places, lattice.bar, beatTicks);
  if (repeats === undefined) return { found: readAlone(), row, evidence };
  const task = {
    row,
    evidence,
    vocabularies,
    swings,
    bar: lattice.bar,
    cellsInBar: lattice.cells.length,
    alternatives: ALTERNATIVES,
    players: beat.open === true ? PLAYERS_OF_REPEATS : PLAYERS_TO_A_CLICK,
  };
  const idea = readRepeats(task, repeats, places);
  // One of many beats, on which all strikes repeat: reading them one by one as well would change nothing.
  if (idea !== undefined && beat.open === true && idea.repeated === n)
    return { found: idea.found, row, evidence, period: repeats.bars };
  const alone = readAlone();
  const [a] = alone;
  const [b] = idea?.found ?? [];
  if (idea === undefined || b === undefined || (!idea.pinned && a !== undefined && a.cost < b.cost))
    return { found: alone, row, evidence };
  const seen = new Set(idea.found.map(f => f.ticks.join()));
  const rest = idea.pinned ? [] : alone.filter(f => !seen.has(f.ticks.join()));
  return {
    found: [...idea.found, ...rest].sort((x, y) => x.cost - y.cost),
    row,
    evidence,
    period: repeats.bars,
  };
};

export interface Candidate {
  readonly found: Placement;
  readonly cost: number;
  readonly beat: Beat;
  readonly row: CellRow;
  readonly evidence: Evidence;
  readonly period?: number;
}

export const candidatesOn = (
  take: Take,
  clean: CleanTake,
  hints: Hints,
  beat: Beat,
  beatCost: number,
): Candidate[] => {
  const { found, row, evidence, period } = readOnBeat(take, clean, hints, beat);
  return found.map(f => ({
    found: f,
    cost: f.cost + beatCost,
    beat,
    row,
    evidence,
    ...(period === undefined ? {} : { period }),
  }));
};
