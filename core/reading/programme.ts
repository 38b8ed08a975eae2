import { divisionOf, maskOf, type Pattern, patternOf, strikesIn } from './patterns.ts';
import type { Book } from './prior.ts';

/**
 * The exact k-best search: cells from left to right; in each, how many of the next events it holds
 * and at which of its slots. The state between cells is the number of events already placed and the
 * pattern of the last cell, so that habits from beat to beat can be scored.
 */
export interface Stage {
  /** Start of each cell in ticks, and one more for the end of the last. */
  readonly start: Int32Array;
  /** The same in seconds. */
  readonly at: Float64Array;
  readonly parts: Uint8Array;
  readonly weight: Uint8Array;
}

/** What is known of each event. */
export interface Evidence {
  /** Times in seconds, rising. */
  readonly at: Float64Array;
  /** Place in ticks that it must have, or NO_PIN. */
  readonly pin: Int32Array;
}

export const NO_PIN = -0x40000000;

export interface Feel {
  /** Seconds: spread of strikes about their place. */
  readonly spread: number;
  /** Seconds: how late all of them are (early below zero). */
  readonly late: number;
  /** Where the second half of a swung pair begins, as a share of the pair: 0.5 is even. */
  readonly swingHalf: number;
  /** The same for pairs of quarters. */
  readonly swingQuarter: number;
}

export interface Habits {
  /** Nats saved when a beat repeats the last beat's pattern. */
  readonly same: number;
  /** Nats saved when a beat goes on with the last beat's division (finer than halves). */
  readonly goesOn: number;
  /** Nats for leaving a strong beat unstruck, by weight of the cell. */
  readonly silentStrong: readonly number[];
}

export interface Path {
  /** Place of each event in ticks. */
  readonly ticks: Int32Array;
  /** Nats, timing and rhythm together. */
  readonly cost: number;
}

/** A share of a cell (0 to 1) as it is played under swing. */
const swung = (share: number, half: number, quarter: number): number => {
  if (half !== 0.5) return share < 0.5 ? share * 2 * half : half + (share - 0.5) * 2 * (1 - half);
  if (quarter !== 0.5) {
    const base = share < 0.5 ? 0 : 0.5;
    const inner = (share - base) * 2;
    return base + (inner < 0.5 ? inner * 2 * quarter : quarter + (inner - 0.5) * 2 * (1 - quarter)) / 2;
  }
  return share;
};

interface Move {
  readonly count: number;
  readonly pattern: Pattern;
  readonly cost: number;
}

/** A strike further than this from its place (in spreads) counts as an accident... */
const TAIL = 4;
/** ... and no strike is tried further away than this, unless there is no other way. */
const REACH = 4.5;
const WIDEST_REACH = 200;
/** Beam: states this many nats behind the best at the same cell are let go. */
const BEAM = 22;

const timing = (z: number): number => {
  const a = Math.abs(z);
  return a <= TAIL ? 0.5 * z * z : 0.5 * TAIL * TAIL + (a - TAIL) * TAIL;
};

/** All ways for cell `c` to hold the next events from `n` on. */
const movesFrom = (
  stage: Stage,
  evidence: Evidence,
  book: Book,
  feel: Feel,
  c: number,
  n: number,
  reaching: number,
): Move[] => {
  const moves: Move[] = [];
  const from = stage.at[c] ?? 0;
  const length = (stage.at[c + 1] ?? 0) - from;
  const startTick = stage.start[c] ?? 0;
  const ticks = (stage.start[c + 1] ?? 0) - startTick;
  const three = stage.parts[c] === 3;
  const reach = reaching * feel.spread;
  book.divisions.forEach((division, di) => {
    const costs = book.costs[di];
    if (costs === undefined) return;
    const step = ticks / division;
    const straight = three || division % 2 !== 0;
    const extend = (event: number, slot: number, mask: number, cost: number): void => {
      const own = costs[mask] ?? Infinity;
      if (own < Infinity)
        moves.push({ count: event - n, pattern: patternOf(division, mask), cost: cost + own });
      const t = evidence.at[event];
      if (t === undefined) return;
      const pin = evidence.pin[event] ?? NO_PIN;
      for (let s = slot; s < division; s++) {
        if (pin !== NO_PIN && pin !== startTick + s * step) continue;
        const share = s / division;
        const place = from + length * (straight ? share : swung(share, feel.swingHalf, feel.swingQuarter));
        const off = t - place - feel.late;
        if (pin === NO_PIN) {
          if (off < -reach) break;
          if (off > reach) continue;
        }
        extend(event + 1, s + 1, mask | (1 << s), cost + timing(off / feel.spread));
      }
    };
    extend(n, 0, 0, 0);
  });
  return moves;
};

class Layer {
  readonly placed: number[] = [];
  readonly pattern: Pattern[] = [];
  /** k entries a state, best first. */
  readonly cost: number[] = [];
  readonly backState: number[] = [];
  readonly backRank: number[] = [];
  readonly k: number;
  private readonly index = new Map<number, number>();

  constructor(k: number) {
    this.k = k;
  }

  state(placed: number, pattern: Pattern): number {
    const key = placed * 65536 + pattern;
    const known = this.index.get(key);
    if (known !== undefined) return known;
    const s = this.placed.length;
    this.index.set(key, s);
    this.placed.push(placed);
    this.pattern.push(pattern);
    for (let i = 0; i < this.k; i++) {
      this.cost.push(Infinity);
      this.backState.push(-1);
      this.backRank.push(-1);
    }
    return s;
  }

  offer(state: number, cost: number, backState: number, backRank: number): boolean {
    const base = state * this.k;
    if (cost >= (this.cost[base + this.k - 1] ?? Infinity)) return false;
    let i = this.k - 1;
    while (i > 0 && (this.cost[base + i - 1] ?? Infinity) > cost) {
      this.cost[base + i] = this.cost[base + i - 1] ?? Infinity;
      this.backState[base + i] = this.backState[base + i - 1] ?? -1;
      this.backRank[base + i] = this.backRank[base + i - 1] ?? -1;
      i--;
    }
    this.cost[base + i] = cost;
    this.backState[base + i] = backState;
    this.backRank[base + i] = backRank;
    return true;
  }
}

/**
 * The k best ways of placing all events in the cells, best first; fewer when there are fewer.
 * `books` holds the patterns for cells of two parts and of three.
 */
export const placeEvents = (
  stage: Stage,
  evidence: Evidence,
  books: { readonly two: Book; readonly three: Book },
  feel: Feel,
  habits: Habits,
  k: number,
): Path[] => {
  for (let reaching = REACH; reaching < WIDEST_REACH; reaching *= 2) {
    const paths = search(stage, evidence, books, feel, habits, k, reaching);
    if (paths.length > 0) return paths;
  }
  return [];
};

const search = (
  stage: Stage,
  evidence: Evidence,
  books: { readonly two: Book; readonly three: Book },
  feel: Feel,
  habits: Habits,
  k: number,
  reaching: number,
): Path[] => {
  const cells = stage.start.length - 1;
  const events = evidence.at.length;
  let layer = new Layer(k);
  layer.offer(layer.state(0, 0), 0, -1, -1);
  const layers: Layer[] = [layer];
  for (let c = 0; c < cells; c++) {
    const book = stage.parts[c] === 3 ? books.three : books.two;
    const next = new Layer(k);
    const moves = new Map<number, Move[]>();
    let best = Infinity;
    for (let s = 0; s < layer.placed.length; s++) best = Math.min(best, layer.cost[s * k] ?? Infinity);
    const silent = habits.silentStrong[stage.weight[c] ?? 3] ?? 0;
    for (let s = 0; s < layer.placed.length; s++) {
      const own = layer.cost[s * k] ?? Infinity;
      if (own > best + BEAM) continue;
      const n = layer.placed[s] ?? 0;
      const last = layer.pattern[s] ?? 0;
      let list = moves.get(n);
      if (list === undefined) moves.set(n, (list = movesFrom(stage, evidence, book, feel, c, n, reaching)));
      for (const move of list) {
        let cost = move.cost;
        if (move.pattern === last && maskOf(move.pattern) !== 0) cost -= habits.same;
        const d = divisionOf(move.pattern);
        if (d > 2 && d === divisionOf(last)) cost -= habits.goesOn;
        if ((move.pattern & 1) === 0) cost += silent;
        const to = next.state(n + move.count, move.pattern);
        for (let r = 0; r < k; r++) {
          const before = layer.cost[s * k + r] ?? Infinity;
          if (before === Infinity || !next.offer(to, before + cost, s, r)) break;
        }
      }
    }
    layers.push(next);
    layer = next;
  }
  const ends: { cost: number; state: number; rank: number }[] = [];
  for (let s = 0; s < layer.placed.length; s++) {
    if (layer.placed[s] !== events) continue;
    for (let r = 0; r < k; r++) {
      const cost = layer.cost[s * k + r] ?? Infinity;
      if (cost < Infinity) ends.push({ cost, state: s, rank: r });
    }
  }
  ends.sort((a, b) => a.cost - b.cost);
  return ends
    .slice(0, k)
    .map(end => ({ cost: end.cost, ticks: trace(stage, layers, events, k, end.state, end.rank) }));
};

const trace = (
  stage: Stage,
  layers: readonly Layer[],
  events: number,
  k: number,
  s: number,
  r: number,
): Int32Array => {
  const ticks = new Int32Array(events);
  let state = s;
  let rank = r;
  for (let c = layers.length - 1; c > 0; c--) {
    const layer = layers[c];
    if (layer === undefined) break;
    const pattern = layer.pattern[state] ?? 0;
    const mask = maskOf(pattern);
    const division = divisionOf(pattern) || 1;
    const start = stage.start[c - 1] ?? 0;
    const step = ((stage.start[c] ?? 0) - start) / division;
    let event = (layer.placed[state] ?? 0) - strikesIn(mask);
    for (let slot = 0; slot < division; slot++) if (mask & (1 << slot)) ticks[event++] = start + slot * step;
    const at = state * k + rank;
    state = layer.backState[at] ?? 0;
    rank = layer.backRank[at] ?? 0;
  }
  return ticks;
};
