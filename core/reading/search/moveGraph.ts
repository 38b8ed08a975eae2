import { intAt, realAt } from '../model/at.ts';
import { type Division, needs, patternOf } from '../rhythm/patterns.ts';
import { speedCost } from '../rhythm/prior.ts';
import { timingCost } from '../rhythm/timing.ts';
import { type CellRow, type Evidence, NO_PIN, type Performance, swung } from './cells.ts';
import { FINE_DIVISION, FINE_REACH, FOLLOWS, REACH, STAYS_AT_MOST } from './constants.ts';

/**
 * Every way each cell can hold the next events, with what its timing costs: the graph that the search
 * walks, the same for all vocabularies. States of layer c stand before cell c.
 */
export interface MoveGraph {
  readonly row: CellRow;
  readonly events: number;
  readonly layers: number;
  readonly states: number;
  /** First state of each layer, and the end of the last. */
  readonly stateStart: Int32Array;
  /** Events placed before a state. */
  readonly statePlaced: Int32Array;
  /** Pattern of the cell before a state. */
  readonly statePattern: Int32Array;
  /** Moves out of state s: moveStart[s] up to moveEnd[s]. */
  readonly moveStart: Int32Array;
  readonly moveEnd: Int32Array;
  /** The state a move leads to, the pattern it gives its cell, and the nats of its timing. */
  readonly moveTo: Int32Array;
  readonly movePattern: Int32Array;
  readonly moveCost: Float64Array;
}

export interface Divisions {
  readonly two: readonly Division[];
  readonly three: readonly Division[];
}

/** States and moves there is room for at first. */
const ROOM = 1024;

const twiceAsLong = <T extends Int32Array | Float64Array>(list: T): T => {
  const longer = new (list.constructor as new (length: number) => T)(list.length * 2);
  longer.set(list);
  return longer;
};

/** Lays out all moves within reach; undefined when some event finds no place at all. */
const graphWithin = (
  row: CellRow,
  evidence: Evidence,
  divisions: Divisions,
  performance: Performance,
  cells: number,
  reaching: number,
): MoveGraph | undefined => {
  const { from, at, shift, pin, events, page } = evidence;
  const reach = reaching * performance.spread;
  // Typed, for the search walks them many times; doubled when full, for nobody knows how many there will be.
  const stateStart = new Int32Array(cells + 2);
  let statePlaced = new Int32Array(ROOM);
  let statePattern = new Int32Array(ROOM);
  let moveStart = new Int32Array(ROOM);
  let moveEnd = new Int32Array(ROOM);
  let moveTo = new Int32Array(ROOM);
  let movePattern = new Int32Array(ROOM);
  let moveCost = new Float64Array(ROOM);
  let states = 1;
  let moves = 0;
  stateStart[1] = 1;
  let division: Division = 1;
  let straight = true;
  let spelling = spellingsOf(division);
  let packed = patternOf(division, 0);
  let step = 0;
  let nearby = reach;
  const fineToo = reaching <= REACH;
  let c = 0;
  const next = new Map<number, number>();
  // What can follow depends on how many events are placed, not on how: it is laid out once for each number.
  const laidIn = new Int32Array(events + 1).fill(-1);
  const firstMove = new Int32Array(events + 1);
  const lastMove = new Int32Array(events + 1);
  const extend = (first: number, event: number, slot: number, mask: number, cost: number): void => {
    // The coarsest spelling only: prices of others are infinite, so they are not laid out.
    if (spelling[mask] === 1) {
      const pattern = packed + mask;
      const key = event * 65536 + pattern;
      let to = next.get(key);
      if (to === undefined) {
        to = states++;
        next.set(key, to);
        if (to === statePlaced.length) {
          statePlaced = twiceAsLong(statePlaced);
          statePattern = twiceAsLong(statePattern);
          moveStart = twiceAsLong(moveStart);
          moveEnd = twiceAsLong(moveEnd);
        }
        statePlaced[to] = event;
        statePattern[to] = pattern;
      }
      if (moves === moveTo.length) {
        moveTo = twiceAsLong(moveTo);
        movePattern = twiceAsLong(movePattern);
        moveCost = twiceAsLong(moveCost);
      }
      moveTo[moves] = to;
      movePattern[moves] = pattern;
      moveCost[moves] = cost;
      moves++;
    }
    if (event >= events) return;
    const o0 = intAt(from, event);
    const o1 = intAt(from, event + 1);
    const pinned = intAt(pin, event);
    const startTick = intAt(row.start, c);
    const free = pinned === NO_PIN;
    const stands = page === undefined || !free ? NO_PIN : intAt(page.stands, event);
    for (let s = slot; s < division; s++) {
      const tick = startTick + s * step;
      if (!free && pinned !== tick) continue;
      const share = straight ? s / division : swung(s / division, performance);
      let own = 0;
      let offs = 0;
      for (let o = o0; o < o1; o++) {
        const cell = c + intAt(shift, o);
        const start = realAt(row.at, cell);
        const off = realAt(at, o) - start - share * (realAt(row.at, cell + 1) - start) - performance.late;
        offs += off;
        own += timingCost(off / performance.spread);
      }
      const mean = offs / (o1 - o0);
      if (page === undefined || stands === NO_PIN) {
        if (free) {
          if (mean < -nearby) break;
          if (mean > nearby) continue;
        }
      } else if (stands === tick) own = Math.min(own, STAYS_AT_MOST);
      else {
        if (mean < -nearby || mean > nearby) continue;
        own += intAt(page.follows, event) === tick ? FOLLOWS : realAt(page.leaves, event);
      }
      extend(first, event + 1, s + 1, mask | (1 << s), cost + own);
    }
  };
  /** Whether a pin lies in this cell: then every division is tried for it. */
  const held = (a: number, b: number, ticks: number): boolean => {
    const start = intAt(row.start, c);
    for (let i = a; i < b; i++) {
      const p = intAt(pin, i);
      if (p !== NO_PIN && p > start && p < start + ticks) return true;
    }
    if (page === undefined) return false;
    // What stands on the page may have been struck at another time altogether.
    for (let i = a; i < events && intAt(page.stands, i) < start + ticks; i++) {
      const p = intAt(page.stands, i);
      const q = intAt(page.follows, i);
      if ((p !== NO_PIN && p > start) || (q !== NO_PIN && q > start && q < start + ticks)) return true;
    }
    return false;
  };
  for (c = 0; c < cells; c++) {
    next.clear();
    const three = row.parts[c] === 3;
    const list = three ? divisions.three : divisions.two;
    const length = realAt(row.at, c + 1) - realAt(row.at, c);
    const ticks = intAt(row.start, c + 1) - intAt(row.start, c);
    const s1 = intAt(stateStart, c + 1);
    for (let s = intAt(stateStart, c); s < s1; s++) {
      const n = intAt(statePlaced, s);
      if (intAt(laidIn, n) !== c) {
        laidIn[n] = c;
        firstMove[n] = moves;
        // Fine divisions are for runs: fewer than three strikes in reach never need one.
        const end = realAt(row.at, c + 1) + 0.5 * reach;
        let near = 0;
        while (
          n + near < events &&
          realAt(at, intAt(from, n + near)) <
            end + realAt(row.at, c + intAt(shift, intAt(from, n + near))) - realAt(row.at, c)
        )
          near++;
        const tooLate =
          n < events &&
          intAt(pin, n) === NO_PIN &&
          (page === undefined || intAt(page.stands, n) < intAt(row.start, c)) &&
          realAt(at, intAt(from, n)) - performance.late <
            realAt(row.at, c + intAt(shift, intAt(from, n))) - 1.5 * reach - 0.05;
        if (!tooLate) {
          for (const d of list) {
            if (d >= FINE_DIVISION && (near < 3 || !fineToo) && !held(n, n + near, ticks)) continue;
            nearby = d >= FINE_DIVISION ? Math.min(reach, (FINE_REACH * length) / d) : reach;
            division = d;
            spelling = spellingsOf(d);
            packed = patternOf(d, 0);
            straight =
              three || d % 2 !== 0 || (performance.swingHalf === 0.5 && performance.swingQuarter === 0.5);
            step = ticks / d;
            extend(n, n, 0, 0, speedCost(length / d));
          }
        }
        lastMove[n] = moves;
      }
      moveStart[s] = intAt(firstMove, n);
      moveEnd[s] = intAt(lastMove, n);
    }
    stateStart[c + 2] = states;
  }
  const last = intAt(stateStart, cells);
  let complete = false;
  for (let s = last; s < states; s++) if (statePlaced[s] === events) complete = true;
  if (!complete) return undefined;
  return {
    row,
    events,
    layers: cells,
    states,
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
    table = Uint8Array.from({ length: 1 << division }, (_, m) => (needs(division, m) ? 1 : 0));
    spellings.set(division, table);
  }
  return table;
};

/** Lays out all moves, reaching further for stray strikes only when it must. */
export const moveGraphOf = (
  row: CellRow,
  evidence: Evidence,
  divisions: Divisions,
  performance: Performance,
  cells = row.start.length - 1,
): MoveGraph | undefined => {
  for (let reaching = REACH; reaching < 300; reaching *= 2.2) {
    const graph = graphWithin(row, evidence, divisions, performance, cells, reaching);
    if (graph !== undefined) return graph;
  }
  return undefined;
};
