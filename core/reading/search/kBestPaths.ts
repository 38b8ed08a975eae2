import { itemAt, intAt, realAt } from '../model/at.ts';
import { divisionOf, maskOf, patternOf, strikesIn } from '../rhythm/patterns.ts';
import type { PriceList } from '../rhythm/prior.ts';
import type { MoveGraph } from './moveGraph.ts';
import { PATH_BEAM } from './constants.ts';

/**
 * The exact k-best search over a graph: cells from left to right, the state between cells being the
 * number of events placed and the pattern of the last cell, so that habits from beat to beat count.
 */
export interface Habits {
  /** Nats saved when a beat goes on with the last beat's division (finer than halves). */
  readonly goesOn: number;
  /** Nats saved by a triplet of two beats (crotchets in the time of two), which is one figure in two cells. */
  readonly acrossBeats: number;
  /** Nats for leaving a beat unstruck, by weight of the cell. */
  readonly silent: readonly number[];
}

export interface Path {
  /** Place of each event in ticks. */
  readonly ticks: Int32Array;
  /** Nats, timing and rhythm together. */
  readonly cost: number;
}

/** First and third third of a beat, then the second of the next: a triplet of two beats. */
const TRIPLET_BEGINS = patternOf(3, 0b101);
const TRIPLET_GOES_ON = patternOf(3, 0b010);

/** `divisionOf`, written out in the innermost loop. */
const DIVISION_SHIFT = 12;

/** The k best ways of placing all events, best first; fewer when there are fewer. */
export const bestPaths = (graph: MoveGraph, list: PriceList, habits: Habits, k: number): Path[] => {
  const { row, layers, states, stateStart, statePattern, statePlaced } = graph;
  const cost = new Float64Array(states * k).fill(Infinity);
  const backState = new Int32Array(states * k);
  const backRank = new Int32Array(states * k);
  cost[0] = 0;
  let least = 0;
  for (let c = 0; c < layers; c++) {
    const prices = row.parts[c] === 3 ? list.three : list.two;
    const silent = itemAt(habits.silent, row.weight[c] ?? 3);
    const s1 = intAt(stateStart, c + 1);
    const limit = least + PATH_BEAM;
    least = Infinity;
    for (let s = intAt(stateStart, c); s < s1; s++) {
      if (realAt(cost, s * k) > limit) continue;
      const last = intAt(statePattern, s);
      const lastDivision = last >> DIVISION_SHIFT;
      const m1 = intAt(graph.moveEnd, s);
      for (let m = intAt(graph.moveStart, s); m < m1; m++) {
        const pattern = intAt(graph.movePattern, m);
        const price = pattern === last ? prices.again : prices.fresh;
        let own = realAt(graph.moveCost, m) + realAt(price, pattern);
        if (own === Infinity) continue;
        if (pattern !== last) {
          const d = pattern >> DIVISION_SHIFT;
          if (d > 2 && d === lastDivision) own -= habits.goesOn;
          if (pattern === TRIPLET_GOES_ON && last === TRIPLET_BEGINS) own -= habits.acrossBeats;
        }
        if ((pattern & 1) === 0) own += silent;
        const to = intAt(graph.moveTo, m) * k;
        for (let r = 0; r < k; r++) {
          const total = realAt(cost, s * k + r) + own;
          if (total >= realAt(cost, to + k - 1)) break;
          let i = to + k - 1;
          while (i > to && realAt(cost, i - 1) > total) {
            cost[i] = realAt(cost, i - 1);
            backState[i] = intAt(backState, i - 1);
            backRank[i] = intAt(backRank, i - 1);
            i--;
          }
          cost[i] = total;
          backState[i] = s;
          backRank[i] = r;
          if (total < least) least = total;
        }
      }
    }
  }
  const ends: { cost: number; state: number; rank: number }[] = [];
  for (let s = intAt(stateStart, layers); s < states; s++) {
    if (statePlaced[s] !== graph.events) continue;
    for (let r = 0; r < k; r++) {
      const total = realAt(cost, s * k + r);
      if (total < Infinity) ends.push({ cost: total, state: s, rank: r });
    }
  }
  ends.sort((a, b) => a.cost - b.cost);
  return ends.slice(0, k).map(end => {
    const ticks = new Int32Array(graph.events);
    let state = end.state;
    let rank = end.rank;
    for (let c = layers - 1; c >= 0; c--) {
      const pattern = intAt(statePattern, state);
      const mask = maskOf(pattern);
      const division = divisionOf(pattern) || 1;
      const start = intAt(row.start, c);
      const step = (intAt(row.start, c + 1) - start) / division;
      let event = intAt(statePlaced, state) - strikesIn(mask);
      for (let slot = 0; slot < division; slot++)
        if (mask & (1 << slot)) ticks[event++] = start + slot * step;
      const at = state * k + rank;
      state = intAt(backState, at);
      rank = intAt(backRank, at);
    }
    return { cost: end.cost, ticks };
  });
};
