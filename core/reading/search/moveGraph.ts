import { type Division, type Pattern, patternOf } from '../rhythm/patterns.ts';
import { haste } from '../rhythm/prior.ts';

/** The cells a take reaches over. */
export interface Stage {
  /** Start of each cell in ticks, and one more for the end of the last. */
  readonly start: Int32Array;
  /** The same in seconds. */
  readonly at: Float64Array;
  readonly parts: Uint8Array;
  readonly weight: Uint8Array;
}

/**
 * What is known of each event: one time, or several when the same moment was played several times
 * (repeats), each that many cells after the first.
 */
export interface Evidence {
  readonly events: number;
  /** Observations of event i: from[i] up to from[i + 1]. */
  readonly from: Int32Array;
  /** Seconds. */
  readonly at: Float64Array;
  /** Cells by which an observation lies after the place that is decided. */
  readonly shift: Int32Array;
  /** Place in ticks that an event must have, or NO_PIN. */
  readonly pin: Int32Array;
}

export const NO_PIN = -0x40000000;

/** How the player plays. */
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

/** A share of a cell (0 to 1) as it is played under swing. */
export const swung = (share: number, feel: Feel): number => {
  const half = feel.swingHalf;
  if (half !== 0.5) return share < 0.5 ? share * 2 * half : half + (share - 0.5) * 2 * (1 - half);
  const quarter = feel.swingQuarter;
  if (quarter === 0.5) return share;
  const base = share < 0.5 ? 0 : 0.5;
  const inner = (share - base) * 2;
  return base + (inner < 0.5 ? inner * 2 * quarter : quarter + (inner - 0.5) * 2 * (1 - quarter)) / 2;
};

/**
 * Every way each cell can hold the next events, with what its timing costs: the graph that the search
 * walks, the same for all vocabularies. States of layer c stand before cell c.
 */
export interface Layout {
  readonly stage: Stage;
  readonly events: number;
  readonly layers: number;
  readonly states: number;
  readonly stateStart: readonly number[];
  readonly statePlaced: readonly number[];
  readonly statePattern: readonly Pattern[];
  readonly moveStart: readonly number[];
  readonly moveEnd: readonly number[];
  readonly moveTo: readonly number[];
  readonly movePattern: readonly Pattern[];
  readonly moveCost: readonly number[];
}

/** A strike further than this from its place (in spreads) counts as an accident... */
const TAIL = 3.5;
/** ... and no strike is tried further away than this, unless there is no other way. */
const REACH = 4.2;

/** Divisions from here on are fine: tried for runs only, and within so many of their slots. */
const FINE = 6;
const FINE_REACH = 1.2;

export const timing = (z: number): number => {
  const a = Math.abs(z);
  return a <= TAIL ? 0.5 * z * z : 0.5 * TAIL * TAIL + (a - TAIL) * TAIL;
};

export interface Divisions {
  readonly two: readonly Division[];
  readonly three: readonly Division[];
}

/** Lays out all moves within reach; undefined when some event finds no place at all. */
const layOutWithin = (
  stage: Stage,
  evidence: Evidence,
  divisions: Divisions,
  feel: Feel,
  cells: number,
  reaching: number,
): Layout | undefined => {
  const { from, at, shift, pin, events } = evidence;
  const reach = reaching * feel.spread;
  const stateStart = [0, 1];
  const statePlaced = [0];
  const statePattern: Pattern[] = [0];
  const moveStart: number[] = [];
  const moveEnd: number[] = [];
  const moveTo: number[] = [];
  const movePattern: Pattern[] = [];
  const moveCost: number[] = [];
  let division: Division = 1;
  let straight = true;
  let spelling = spellingsOf(division);
  let packed = patternOf(division, 0);
  let step = 0;
  let nearby = reach;
  const fineToo = reaching <= REACH;
  let c = 0;
  let next = new Map<number, number>();
  const extend = (first: number, event: number, slot: number, mask: number, cost: number): void => {
    // The coarsest spelling only: prices of others are infinite, so they are not laid out.
    if (spelling[mask] === 1) {
      const pattern = packed + mask;
      const key = event * 65536 + pattern;
      let to = next.get(key);
      if (to === undefined) {
        to = statePlaced.length;
        next.set(key, to);
        statePlaced.push(event);
        statePattern.push(pattern);
      }
      moveTo.push(to);
      movePattern.push(pattern);
      moveCost.push(cost);
    }
    if (event >= events) return;
    const o0 = from[event] ?? 0;
    const o1 = from[event + 1] ?? 0;
    const pinned = pin[event] ?? NO_PIN;
    const startTick = stage.start[c] ?? 0;
    for (let s = slot; s < division; s++) {
      if (pinned !== NO_PIN && pinned !== startTick + s * step) continue;
      const share = straight ? s / division : swung(s / division, feel);
      let own = 0;
      let offs = 0;
      for (let o = o0; o < o1; o++) {
        const cell = c + (shift[o] ?? 0);
        const start = stage.at[cell] ?? 0;
        const off = (at[o] ?? 0) - start - share * ((stage.at[cell + 1] ?? 0) - start) - feel.late;
        offs += off;
        own += timing(off / feel.spread);
      }
      const mean = offs / (o1 - o0);
      if (pinned === NO_PIN) {
        if (mean < -nearby) break;
        if (mean > nearby) continue;
      }
      extend(first, event + 1, s + 1, mask | (1 << s), cost + own);
    }
  };
  /** Whether a pin lies in this cell: then every division is tried for it. */
  const held = (a: number, b: number, ticks: number): boolean => {
    const start = stage.start[c] ?? 0;
    for (let i = a; i < b; i++) {
      const p = pin[i] ?? NO_PIN;
      if (p !== NO_PIN && p > start && p < start + ticks) return true;
    }
    return false;
  };
  for (c = 0; c < cells; c++) {
    next = new Map();
    const three = stage.parts[c] === 3;
    const list = three ? divisions.three : divisions.two;
    const length = (stage.at[c + 1] ?? 0) - (stage.at[c] ?? 0);
    const ticks = (stage.start[c + 1] ?? 0) - (stage.start[c] ?? 0);
    const done = new Map<number, [number, number]>();
    const s1 = stateStart[c + 1] ?? 0;
    for (let s = stateStart[c] ?? 0; s < s1; s++) {
      const n = statePlaced[s] ?? 0;
      let range = done.get(n);
      if (range === undefined) {
        const begin = moveTo.length;
        // Fine divisions are for runs: fewer than three strikes in reach never need one.
        const end = (stage.at[c + 1] ?? 0) + 0.5 * reach;
        let near = 0;
        while (
          n + near < events &&
          (at[from[n + near] ?? 0] ?? 0) <
            end + (stage.at[c + (shift[from[n + near] ?? 0] ?? 0)] ?? 0) - (stage.at[c] ?? 0)
        )
          near++;
        const cell = c + (shift[from[n] ?? 0] ?? 0);
        const tooLate =
          n < events &&
          (pin[n] ?? NO_PIN) === NO_PIN &&
          (at[from[n] ?? 0] ?? 0) - feel.late < (stage.at[cell] ?? 0) - 1.5 * reach - 0.05;
        if (!tooLate) {
          for (const d of list) {
            if (d >= FINE && (near < 3 || !fineToo) && !held(n, n + near, ticks)) continue;
            nearby = d >= FINE ? Math.min(reach, (FINE_REACH * length) / d) : reach;
            division = d;
            spelling = spellingsOf(d);
            packed = patternOf(d, 0);
            straight = three || d % 2 !== 0 || (feel.swingHalf === 0.5 && feel.swingQuarter === 0.5);
            step = ticks / d;
            extend(n, n, 0, 0, haste(length / d));
          }
        }
        range = [begin, moveTo.length];
        done.set(n, range);
      }
      moveStart.push(range[0]);
      moveEnd.push(range[1]);
    }
    stateStart.push(statePlaced.length);
  }
  const last = stateStart[cells] ?? 0;
  let complete = false;
  for (let s = last; s < statePlaced.length; s++) if (statePlaced[s] === events) complete = true;
  if (!complete) return undefined;
  return {
    stage,
    events,
    layers: cells,
    states: statePlaced.length,
    stateStart,
    statePlaced,
    statePattern,
    moveStart,
    moveEnd,
    moveTo,
    movePattern,
    moveCost,
  };
};

const spellings = new Map<Division, Uint8Array>();
/** For every mask of a division, 1 where it needs that division. */
const spellingsOf = (division: Division): Uint8Array => {
  let table = spellings.get(division);
  if (table === undefined) {
    table = Uint8Array.from({ length: 1 << division }, (_, m) => (needed(division, m) ? 1 : 0));
    spellings.set(division, table);
  }
  return table;
};

const needed = (division: Division, mask: number): boolean => {
  for (const d of [1, 2, 3, 4, 6, 8, 12]) {
    if (d >= division || division % d !== 0) continue;
    let coarse = 0;
    for (let i = 0; i < d; i++) coarse |= 1 << ((i * division) / d);
    if ((mask & ~coarse) === 0) return false;
  }
  return true;
};

/** Lays out all moves, reaching further for stray strikes only when it must. */
export const layOut = (
  stage: Stage,
  evidence: Evidence,
  divisions: Divisions,
  feel: Feel,
  cells = stage.start.length - 1,
): Layout | undefined => {
  for (let reaching = REACH; reaching < 300; reaching *= 2.2) {
    const layout = layOutWithin(stage, evidence, divisions, feel, cells, reaching);
    if (layout !== undefined) return layout;
  }
  return undefined;
};
