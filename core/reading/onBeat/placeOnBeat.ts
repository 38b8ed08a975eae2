import { intAt, realAt } from '../model/at.ts';
import type { Lattice } from '../search/lattice.ts';
import { type Evidence, NO_PIN, type Performance, type CellRow, swung } from '../search/cells.ts';
import { type Divisions, type MoveGraph, moveGraphOf } from '../search/moveGraph.ts';

import { bestPaths, type Habits, type Path } from '../search/kBestPaths.ts';
import { pricesOf, type Vocabulary } from '../rhythm/prior.ts';
import { STRAIGHT, type Swinging } from '../rhythm/swings.ts';
import { secondsAt, type TimeMap, ticksAt } from '../search/timeMap.ts';
import { BREADTH, PLAYER, MARGIN } from './constants.ts';
import { HABITS, HABITS_ON_OPEN_BEAT } from '../rhythm/constants.ts';
import { lateCost, spreadCost } from './player.ts';

export interface Placement {
  readonly ticks: Int32Array;
  /** Nats in all (rhythm, timing, vocabulary, swing, player), summed over all ways of meaning the same places. */
  readonly cost: number;
  readonly vocabulary: Vocabulary;
  readonly swing: Swinging;
  readonly performance: Performance;
  /** Put on the nearest places because no rhythm holds the strikes. */
  readonly forced?: boolean;
}

/** The cells a take reaches over, with some room before and after. */
export const cellRowFor = (
  lattice: Lattice,
  map: TimeMap,
  first: number,
  last: number,
  positions: readonly number[] = [],
): CellRow => {
  const known = positions.filter(t => t !== NO_PIN);
  const lowest = Math.min(ticksAt(map, first - MARGIN), ...known);
  const highest = Math.max(ticksAt(map, last + MARGIN), ...known);
  const fromBar = Math.floor(lowest / lattice.bar);
  const toBar = Math.floor(highest / lattice.bar);
  const start: number[] = [];
  const parts: number[] = [];
  const weight: number[] = [];
  let end = 0;
  for (let b = fromBar; b <= toBar; b++) {
    for (const cell of lattice.cells) {
      const at = b * lattice.bar + cell.start;
      if (at + cell.length <= lowest || at > highest) continue;
      start.push(at);
      parts.push(cell.parts);
      weight.push(cell.weight);
      end = at + cell.length;
    }
  }
  start.push(end);
  return {
    start: Int32Array.from(start),
    at: Float64Array.from(start, t => secondsAt(map, t)),
    parts: Uint8Array.from(parts),
    weight: Uint8Array.from(weight),
  };
};

const shareOf = (ratio: number): number => ratio / (1 + ratio);

/**
 * Seconds of spread and lateness with a swing, as the search takes them.
 * @example performanceOf(0.02, 0, { ratio: 2, of: 'half', cost: 0 }).swingHalf // => 2 / 3
 */
export const performanceOf = (spread: number, late: number, swing: Swinging): Performance => ({
  spread,
  late,
  swingHalf: swing.of === 'half' ? shareOf(swing.ratio) : 0.5,
  swingQuarter: swing.of === 'quarter' ? shareOf(swing.ratio) : 0.5,
});

/** Distances of observations from their places, in seconds, swing taken into account, lateness not. */
export const residuals = (
  row: CellRow,
  evidence: Evidence,
  ticks: Int32Array,
  performance: Performance,
): Float64Array => {
  const out = new Float64Array(evidence.at.length);
  let c = 0;
  for (let i = 0; i < ticks.length; i++) {
    const tick = intAt(ticks, i);
    while (c < row.start.length - 2 && intAt(row.start, c + 1) <= tick) c++;
    const start = intAt(row.start, c);
    const length = intAt(row.start, c + 1) - start;
    let part = (tick - start) / length;
    // Thirds and sixths are played as they are written; swing bends only halves and quarters.
    const bends = row.parts[c] === 2 && Number.isInteger(part * 8);
    if (bends) part = swung(part, performance);
    for (let o = intAt(evidence.from, i); o < intAt(evidence.from, i + 1); o++) {
      const cell = c + intAt(evidence.shift, o);
      const from = realAt(row.at, cell);
      out[o] = realAt(evidence.at, o) - from - part * (realAt(row.at, cell + 1) - from);
    }
  }
  return out;
};

/** How late a take is altogether, drawn towards what players do; stray strikes are left out. */
const latenessOf = (off: Float64Array, spread: number): number => {
  const p = PLAYER;
  const sorted = Float64Array.from(off).sort();
  const middle = realAt(sorted, sorted.length >> 1);
  let sum = 0;
  let n = 0;
  for (const e of sorted) {
    if (Math.abs(e - middle) > 4 * spread) continue;
    sum += e;
    n++;
  }
  if (n === 0) return p.late;
  const trust = (n * p.lateSpread ** 2) / (n * p.lateSpread ** 2 + spread ** 2);
  return p.late + trust * (sum / n - p.late);
};

/** What is tried of players. */
export interface Players {
  /** Spreads in seconds, rising. */
  readonly spreads: readonly number[];
  /** Lateness in seconds to begin with, and whether it is re-estimated from what was read. */
  readonly late: number;
  readonly lateOpen: boolean;
  /** How beats go on from one to the next. */
  readonly habits: Habits;
  /** How the player swings, where that is known: then nothing else is tried. */
  readonly swing?: Swinging;
}

/** To a click: from a trained player to a beginner. */
export const PLAYERS_TO_A_CLICK: Players = {
  spreads: [0.011, 0.016, 0.023, 0.033, 0.047],
  late: PLAYER.late,
  lateOpen: true,
  habits: HABITS,
};
/** On a beat fitted to the strikes: nothing is left to be late against, and the fit takes up some spread. */
export const PLAYERS_ON_FITTED_BEAT: Players = {
  spreads: [0.013, 0.023, 0.038],
  late: 0,
  lateOpen: false,
  habits: HABITS_ON_OPEN_BEAT,
};
/** The same for several playings together, which tell an uneven player from another rhythm. */
export const PLAYERS_OF_REPEATS: Players = {
  spreads: [0.013, 0.023, 0.036, 0.052],
  late: 0,
  lateOpen: false,
  habits: HABITS_ON_OPEN_BEAT,
};

interface Trial {
  readonly graph: MoveGraph;
  readonly performance: Performance;
  readonly swing: Swinging;
  /** Player and swing, without the path. */
  readonly base: number;
  /** Best whole cost under each vocabulary. */
  readonly costs: readonly number[];
  readonly best: number;
}

const union = (vocabularies: readonly Vocabulary[]): Divisions => ({
  two: [...new Set(vocabularies.flatMap(v => v.two))],
  three: [...new Set(vocabularies.flatMap(v => v.three))],
});

/**
 * The best ways of placing events on a known beat, over vocabularies, swings and players, best first.
 * Costs of the same places reached in several ways are summed as chances.
 */
export const placeOnBeat = (
  row: CellRow,
  evidence: Evidence,
  vocabularies: readonly Vocabulary[],
  swings: readonly Swinging[],
  k: number,
  players: Players = PLAYERS_TO_A_CLICK,
  cells = row.start.length - 1,
): Placement[] => {
  const { spreads } = players;
  const observations = evidence.at.length;
  const divisions = union(vocabularies);
  const trial = (spread: number, swing: Swinging, startLate: number): Trial | undefined => {
    let late = startLate;
    for (let round = 0; ; round++) {
      const performance = performanceOf(spread, late, swing);
      const graph = moveGraphOf(row, evidence, divisions, performance, cells);
      if (graph === undefined) return undefined;
      const base = spreadCost(spread, observations) + lateCost(late) + swing.cost;
      let winner: Path | undefined;
      let best = Infinity;
      const costs = vocabularies.map(v => {
        const [path] = bestPaths(graph, pricesOf(v), players.habits, 1);
        if (path === undefined) return Infinity;
        const cost = path.cost + v.cost + base;
        if (cost < best) {
          best = cost;
          winner = path;
        }
        return cost;
      });
      if (winner === undefined) return undefined;
      const told = players.lateOpen
        ? latenessOf(residuals(row, evidence, winner.ticks, performance), spread)
        : late;
      if (round >= 1 || Math.abs(told - late) < 0.1 * spread)
        return { graph, performance, swing, base, costs, best };
      late = told;
    }
  };
  const trials: Trial[] = [];
  let centre = 0;
  let centreCost = Infinity;
  spreads.forEach((spread, i) => {
    const t = trial(spread, players.swing ?? STRAIGHT, players.late);
    if (t === undefined) return;
    trials.push(t);
    if (t.best < centreCost) {
      centreCost = t.best;
      centre = i;
    }
  });
  for (const swing of players.swing === undefined ? swings : []) {
    if (swing.ratio === 1) continue;
    for (const i of [centre - 1, centre]) {
      const spread = spreads[i];
      const t = spread === undefined ? undefined : trial(spread, swing, players.late);
      if (t !== undefined) trials.push(t);
    }
  }
  let least = Infinity;
  for (const t of trials) least = Math.min(least, t.best);
  const byPlaces = new Map<string, { best: Placement; mass: number }>();
  for (const t of trials) {
    t.costs.forEach((first, vi) => {
      const v = vocabularies[vi];
      if (v === undefined || first > least + BREADTH) return;
      for (const path of bestPaths(t.graph, pricesOf(v), players.habits, k)) {
        const cost = path.cost + v.cost + t.base;
        const mass = Math.exp(least - cost);
        const key = path.ticks.join();
        const known = byPlaces.get(key);
        const found: Placement = {
          ticks: path.ticks,
          cost,
          vocabulary: v,
          swing: t.swing,
          performance: t.performance,
        };
        if (known === undefined) byPlaces.set(key, { best: found, mass });
        else {
          known.mass += mass;
          if (cost < known.best.cost) known.best = found;
        }
      }
    });
  }
  return [...byPlaces.values()]
    .map(({ best, mass }) => ({ ...best, cost: least - Math.log(mass) }))
    .sort((a, b) => a.cost - b.cost);
};
