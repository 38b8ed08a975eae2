import type { CleanTake } from '../../take/clean.ts';
import type { Take } from '../../take/take.ts';
import { realAt } from '../model/at.ts';
import type { Hints } from '../model/reading.ts';
import { findRepeats } from '../repeats/repeats.ts';
import { mostEven, swingsOf } from '../rhythm/swings.ts';
import { vocabulariesOf, writtenOut } from '../rhythm/vocabularies.ts';
import { type Lattice, TICKS } from '../search/lattice.ts';
import type { CellRow, Evidence } from '../search/cells.ts';
import { ticksAt, type TimeMap } from '../search/timeMap.ts';
import { ALTERNATIVES } from './constants.ts';
import { evidenceOf, obeying } from './evidence.ts';
import {
  cellRowFor,
  type Placement,
  placeOnBeat,
  PLAYERS_OF_REPEATS,
  PLAYERS_ON_FITTED_BEAT,
  PLAYERS_TO_A_CLICK,
} from './placeOnBeat.ts';
import { placeSomehow } from './placeSomehow.ts';
import { readRepeats } from './readRepeats.ts';

export interface Beat {
  /** Whether the beat was found, not given. */
  readonly open?: boolean;
  readonly lattice: Lattice;
  readonly map: TimeMap;
}

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
  /** The same for pages of one rhythm that differ in values, metre or barline only. */
  readonly rhythm?: string;
}

/**
 * Every way of writing the take on one beat, cheapest first, with what the beat itself costs in nats.
 */
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
