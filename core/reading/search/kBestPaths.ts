import { divisionOf, maskOf, type Pattern, strikesIn } from '../rhythm/patterns.ts';
import type { PriceList } from '../rhythm/prior.ts';
import type { Layout } from './moveGraph.ts';

/**
 * The exact k-best search over a layout: cells from left to right, the state between cells being the
 * number of events placed and the pattern of the last cell, so that habits from beat to beat count.
 */
export interface Habits {
  /** Nats saved when a beat goes on with the last beat's division (finer than halves). */
  readonly goesOn: number;
  /** Nats for leaving a beat unstruck, by weight of the cell. */
  readonly silent: readonly number[];
  /** Nats for an unstruck beat after a beat whose last quarter or third was struck (a tie over the beat). */
  readonly tied: number;
}

export interface Path {
  /** Place of each event in ticks. */
  readonly ticks: Int32Array;
  /** Nats, timing and rhythm together. */
  readonly cost: number;
}

/** `divisionOf`, written out in the innermost loop. */
const DIVISION_SHIFT = 12;

/** Beam: states this many nats behind the best at the same cell are let go. */
const BEAM = 25;

/** The k best ways of placing all events, best first; fewer when there are fewer. */
export const bestPaths = (layout: Layout, list: PriceList, habits: Habits, k: number): Path[] => {
  const { stage, layers, states, stateStart, statePattern, statePlaced } = layout;
  const cost = new Float64Array(states * k).fill(Infinity);
  const backState = new Int32Array(states * k);
  const backRank = new Int32Array(states * k);
  cost[0] = 0;
  let least = 0;
  for (let c = 0; c < layers; c++) {
    const prices = stage.parts[c] === 3 ? list.three : list.two;
    const silent = habits.silent[stage.weight[c] ?? 3] ?? 0;
    const s1 = stateStart[c + 1] ?? 0;
    const limit = least + BEAM;
    least = Infinity;
    for (let s = stateStart[c] ?? 0; s < s1; s++) {
      if ((cost[s * k] ?? Infinity) > limit) continue;
      const last = statePattern[s] ?? 0;
      const lastDivision = last >> DIVISION_SHIFT;
      const lateTail = tailStruck(last);
      const m1 = layout.moveEnd[s] ?? 0;
      for (let m = layout.moveStart[s] ?? 0; m < m1; m++) {
        const pattern = layout.movePattern[m] ?? 0;
        const price = pattern === last ? prices.again : prices.fresh;
        let own = (layout.moveCost[m] ?? 0) + (price[pattern] ?? Infinity);
        if (own === Infinity) continue;
        if (pattern !== last) {
          const d = pattern >> DIVISION_SHIFT;
          if (d > 2 && d === lastDivision) own -= habits.goesOn;
        }
        if ((pattern & 1) === 0) own += lateTail ? silent + habits.tied : silent;
        const to = (layout.moveTo[m] ?? 0) * k;
        for (let r = 0; r < k; r++) {
          const total = (cost[s * k + r] ?? Infinity) + own;
          if (total >= (cost[to + k - 1] ?? Infinity)) break;
          let i = to + k - 1;
          while (i > to && (cost[i - 1] ?? Infinity) > total) {
            cost[i] = cost[i - 1] ?? Infinity;
            backState[i] = backState[i - 1] ?? 0;
            backRank[i] = backRank[i - 1] ?? 0;
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
  for (let s = stateStart[layers] ?? 0; s < states; s++) {
    if (statePlaced[s] !== layout.events) continue;
    for (let r = 0; r < k; r++) {
      const total = cost[s * k + r] ?? Infinity;
      if (total < Infinity) ends.push({ cost: total, state: s, rank: r });
    }
  }
  ends.sort((a, b) => a.cost - b.cost);
  return ends.slice(0, k).map(end => {
    const ticks = new Int32Array(layout.events);
    let state = end.state;
    let rank = end.rank;
    for (let c = layers - 1; c >= 0; c--) {
      const pattern = statePattern[state] ?? 0;
      const mask = maskOf(pattern);
      const division = divisionOf(pattern) || 1;
      const start = stage.start[c] ?? 0;
      const step = ((stage.start[c + 1] ?? 0) - start) / division;
      let event = (statePlaced[state] ?? 0) - strikesIn(mask);
      for (let slot = 0; slot < division; slot++)
        if (mask & (1 << slot)) ticks[event++] = start + slot * step;
      const at = state * k + rank;
      state = backState[at] ?? 0;
      rank = backRank[at] ?? 0;
    }
    return { cost: end.cost, ticks };
  });
};

/** Whether the last slot of a pattern finer than halves was struck. */
const tailStruck = (pattern: Pattern): boolean => {
  const d = divisionOf(pattern);
  return d > 1 && maskOf(pattern) >> (d - 1) === 1;
};
