import { intAt, itemAt, realAt } from '../model/at.ts';
import { NO_PIN } from '../search/cells.ts';
import { type BeatCell, type BeatGuess, CELL_TICKS, NOTHING, type SearchOptions } from './beatGuess.ts';
import { divisionOf, type Division, maskOf, patternOf } from '../rhythm/patterns.ts';
import { speedCost } from '../rhythm/prior.ts';
import { BEAT_REACH, MOST_SILENT, BEAT_BEAM, FREE_BEAT, HELD_BEAT } from './constants.ts';
import { HABITS, RHYTHM } from '../rhythm/constants.ts';
import { timingCostOfSquare } from '../rhythm/timing.ts';
import { bendPair } from '../rhythm/swings.ts';

/**
 * Finding the beat of a take that had no click. Many guesses at the beat run side by side, each
 * tracking beat length and phase through the strikes with a Kalman filter and writing the rhythm as
 * it goes; the cost of a guess is the exact chance of its strike times with tempo left open, plus the
 * price of its rhythm. Strike by strike the cheapest guesses are kept.
 * (A switching state-space model, after the published tempo-tracking literature: Cemgil & Kappen 2003,
 * "Monte Carlo methods for tempo tracking and rhythm quantization"; from memory.)
 *
 * The cheapest guesses at the beat of these strike times (seconds, rising), cheapest first, each with another beat.
 */
export const searchBeat = (at: Float64Array, options: SearchOptions, most: number): BeatGuess[] => {
  const results: BeatGuess[] = [];
  for (const parts of options.kinds) {
    for (const swingHalf of parts === 3 ? [0.5] : options.swings) {
      for (const end of searchKind(at, options, parts, swingHalf)) {
        results.push(guessOf(end, at.length, parts, swingHalf));
      }
    }
  }
  results.sort((x, y) => x.cost - y.cost);
  const kept: BeatGuess[] = [];
  const seen = new Set<string>();
  for (const r of results) {
    const key = `${String(r.parts)}:${r.ticks.join()}`;
    if (seen.has(key)) continue;
    seen.add(key);
    kept.push(r);
    if (kept.length >= most) break;
  }
  return kept;
};

const guessOf = (end: BeatCell, events: number, parts: 2 | 3, swingHalf: number): BeatGuess => {
  const ticks = new Int32Array(events);
  const held: number[] = [];
  const beat = CELL_TICKS[parts];
  for (let node: BeatCell | undefined = end; node !== undefined; node = node.parent) {
    const division = divisionOf(node.pattern) || 1;
    const mask = maskOf(node.pattern);
    const start = (node.cells - 1) * beat;
    let event = node.placed - 1;
    if (node.isHeld) held.unshift(start);
    for (let s = division - 1; s >= 0; s--)
      if (mask & (1 << s)) ticks[event--] = start + (s * beat) / division;
  }
  return { ticks, parts, beat, swingHalf, cost: end.cost, length: end.length, held };
};

const searchKind = (
  at: Float64Array,
  options: SearchOptions,
  parts: 2 | 3,
  swingHalf: number,
): BeatCell[] => {
  const n = at.length;
  const divisions = parts === 2 ? options.divisions.two : options.divisions.three;
  const prices = parts === 2 ? options.prices.two : options.prices.three;
  const noise = options.spread ** 2;
  const { drift, pin } = options;
  const buckets: BeatCell[][] = Array.from({ length: n + 1 }, () => []);
  const keys: Map<number, number>[] = Array.from({ length: n + 1 }, () => new Map<number, number>());

  // Guesses that waited are compared among themselves: waiting is dear at once, and pays later.
  const leastAt = Array.from({ length: options.held + 1 }, () => new Float64Array(n + 1).fill(Infinity));

  const offer = (node: BeatCell): void => {
    const leastHere = itemAt(leastAt, node.held);
    if (node.cost < realAt(leastHere, node.placed)) leastHere[node.placed] = node.cost;
    const bucket = buckets[node.placed];
    const index = keys[node.placed];
    if (bucket === undefined || index === undefined) return;
    // Guesses with the same beat, the same phase and as much behind them share their future.
    const key =
      Math.round(Math.log(node.length) / 0.025) * 100000 +
      Math.round(((node.start - realAt(at, Math.min(node.placed, n - 1))) / node.length) * 25) * 8 +
      Math.min(7, node.silent) +
      10000000 * node.held;
    const known = index.get(key);
    if (known === undefined) {
      index.set(key, bucket.length);
      bucket.push(node);
    } else if (node.cost < (bucket[known]?.cost ?? Infinity)) bucket[known] = node;
  };

  // What is being expanded; set by `expand`, read by `go` (one closure for the whole search is much quicker).
  let from: BeatCell = NOTHING;
  let first = false;
  let holding = false;
  let division: Division = 1;
  let straight = true;
  let rush = 0;
  let packed = 0;
  let fromDivision = 0;
  const { goesOn } = HABITS;
  const { offBeatStart } = FREE_BEAT;

  const go = (
    event: number,
    slot: number,
    mask: number,
    cost: number,
    start: number,
    length: number,
    a: number,
    b: number,
    c: number,
    anchor: number,
  ): void => {
    const pattern = packed + mask;
    const table = pattern === from.pattern ? prices.again : prices.fresh;
    const price = realAt(table, pattern);
    const placedHere = event - from.placed;
    const empty = placedHere === 0;
    if (price < Infinity && !(first && empty) && !(empty && from.silent >= MOST_SILENT)) {
      // The next strike must not have passed already.
      const nextStart = start + length;
      const unsure = holding ? a + 2 * b + c : a;
      if (event >= n || realAt(at, event) > nextStart - BEAT_REACH * Math.sqrt(noise + unsure) - 0.02) {
        let more = cost + price + rush;
        const d = division;
        if (pattern !== from.pattern && d > 2 && d === fromDivision) more -= goesOn;
        // After a held beat the tempo is what it was before it.
        const after = holding ? from.length : length;
        const q = (drift * after) ** 2;
        // Guesses far behind the best at the same strike are never gone on with.
        const held = holding ? from.held + 1 : from.held;
        if (more <= realAt(itemAt(leastAt, held), event) + BEAT_BEAM)
          offer({
            parent: first ? undefined : from,
            pattern,
            placed: event,
            cells: from.cells + 1,
            silent: empty ? from.silent + 1 : 0,
            cost: more,
            start: nextStart,
            length: after,
            a: a + 2 * b + c + q / 3,
            b: holding ? q / 2 : b + c + q / 2,
            c: (holding ? from.c : c) + q,
            anchor,
            isHeld: holding,
            held,
          });
      }
    }
    if (event >= n) return;
    const t = realAt(at, event);
    for (let s = slot; s < division; s++) {
      const share = straight ? s / division : bendPair(s / division, swingHalf);
      let held = anchor;
      const pinned = intAt(pin, event);
      if (pinned !== NO_PIN) {
        const own = from.cells * CELL_TICKS[parts] + (s * CELL_TICKS[parts]) / division - pinned;
        if (anchor !== NO_PIN && own !== anchor) continue;
        held = own;
      }
      if (first && event === 0) {
        // The first strike sets the phase.
        go(
          1,
          s + 1,
          1 << s,
          cost + (s === 0 ? 0 : offBeatStart),
          t - share * length,
          length,
          noise + share * share * c,
          -share * c,
          c,
          held,
        );
        continue;
      }
      const seen = a + 2 * share * b + share * share * c + noise;
      const miss = t - start - share * length;
      const z2 = (miss * miss) / seen;
      if (z2 > BEAT_REACH * BEAT_REACH) {
        if (miss < 0) break;
        continue;
      }
      const ka = (a + share * b) / seen;
      const kb = (b + share * c) / seen;
      const newLength = length + kb * miss;
      if (newLength < 0.15) continue;
      go(
        event + 1,
        s + 1,
        mask | (1 << s),
        cost + timingCostOfSquare(z2) + 0.5 * Math.log(seen / noise),
        start + ka * miss,
        newLength,
        a - ka * (a + share * b),
        b - ka * (b + share * c),
        c - kb * (b + share * c),
        held,
      );
    }
  };

  /** Tries every pattern of the next cell after a guess (or of the first cell, where the first strike sets the phase). */
  const expand = (node: BeatCell, isFirst: boolean, isHeld: boolean): void => {
    from = node;
    first = isFirst;
    holding = isHeld;
    const { cost, start, a, anchor } = node;
    const length = isHeld ? node.length * (1 + HELD_BEAT.longer) : node.length;
    const b = isHeld ? 0 : node.b;
    const c = isHeld ? (HELD_BEAT.spread * node.length) ** 2 : node.c;
    fromDivision = divisionOf(node.pattern);
    for (const d of divisions) {
      division = d;
      straight = parts === 3 || d % 2 !== 0 || swingHalf === 0.5;
      rush = speedCost(node.length / d);
      packed = patternOf(d, 0);
      go(node.placed, 0, 0, isHeld ? cost + HELD_BEAT.cost : cost, start, length, a, b, c, anchor);
    }
  };

  for (const length of options.lengths) {
    const cost = options.lengthCost(length, parts) + (swingHalf === 0.5 ? 0 : RHYTHM.swing.half);
    const c = (options.lengthSpread * length) ** 2;
    expand({ ...NOTHING, cost, length, c }, true, false);
  }
  for (let e = 1; e < n; e++) {
    const bucket = buckets[e] ?? [];
    // Silent cells add guesses to the same bucket while it is walked, so it is walked by time.
    let from = 0;
    while (from < bucket.length) {
      const batch = bucket.slice(from).sort((x, y) => x.cost - y.cost);
      const sofar = bucket.slice();
      from = bucket.length;
      for (let held = 0; held <= options.held; held++) {
        const least = sofar.reduce((m, x) => (x.held === held ? Math.min(m, x.cost) : m), Infinity);
        const chosen = batch
          .filter(x => x.held === held)
          .slice(0, e < options.opening ? 4 * options.width : options.width)
          .filter(x => x.cost < least + BEAT_BEAM);
        for (const node of chosen) {
          expand(node, false, false);
          if (node.held < options.held && !node.isHeld && node.cells > 1) expand(node, false, true);
        }
      }
    }
    buckets[e] = [];
  }
  return (buckets[n] ?? [])
    .filter(x => x.held === options.held)
    .sort((x, y) => x.cost - y.cost)
    .slice(0, 40);
};
