import fc from 'fast-check';
import { expect, it } from 'vitest';
import { patternOf, strikesIn, maskOf, divisionOf } from '../../../core/reading/rhythm/patterns.ts';
import { pricesOf } from '../../../core/reading/rhythm/prior.ts';
import { vocabulariesOf } from '../../../core/reading/rhythm/vocabularies.ts';
import { bestPaths, type Habits } from '../../../core/reading/search/kBestPaths.ts';
import type { MoveGraph } from '../../../core/reading/search/moveGraph.ts';

const CELLS = 3;
/** The patterns a cell may hold: nothing, on the beat, its half, both, quarters, triplets of one beat and of two. */
const PATTERNS = [
  patternOf(1, 0),
  patternOf(1, 1),
  patternOf(2, 0b10),
  patternOf(2, 0b11),
  patternOf(4, 0b1001),
  patternOf(3, 0b111),
  patternOf(3, 0b101),
  patternOf(3, 0b010),
];
const HABITS: Habits = { goesOn: 0.7, acrossBeats: 1.5, silent: [0.4, 0.3, 0.2, 0.1] };
const EVERYTHING = vocabulariesOf('automatic').at(-1);
if (EVERYTHING === undefined) throw new Error('no vocabulary');
const prices = pricesOf(EVERYTHING).two;

interface Way {
  readonly patterns: readonly number[];
  readonly cost: number;
}

/** A graph of all patterns in every cell, with timings at random, and all ways through it, by trying them all. */
const made = (timing: readonly number[], events: number): { graph: MoveGraph; ways: Way[] } => {
  const layers: { placed: number; pattern: number }[][] = [[{ placed: 0, pattern: -1 }]];
  for (let c = 0; c < CELLS; c++) {
    const next = new Map<string, { placed: number; pattern: number }>();
    for (const { placed } of layers[c] ?? [])
      for (const pattern of PATTERNS) {
        const after = placed + strikesIn(maskOf(pattern));
        if (after <= events) next.set(`${String(after)} ${String(pattern)}`, { placed: after, pattern });
      }
    layers.push([...next.values()]);
  }
  const flat = layers.flat();
  const starts = layers.map((_, i) => layers.slice(0, i).reduce((sum, l) => sum + l.length, 0));
  const moves: { from: number; to: number; pattern: number; cost: number }[] = [];
  layers.slice(0, -1).forEach((layer, c) => {
    layer.forEach((state, s) => {
      (layers[c + 1] ?? []).forEach((to, t) => {
        if (to.placed !== state.placed + strikesIn(maskOf(to.pattern))) return;
        const cost = timing[(c * 31 + to.pattern + 7 * to.placed) % timing.length] ?? 0;
        moves.push({ from: (starts[c] ?? 0) + s, to: (starts[c + 1] ?? 0) + t, pattern: to.pattern, cost });
      });
    });
  });
  const weight = [0, 2, 1];
  const graph: MoveGraph = {
    row: {
      start: Int32Array.from({ length: CELLS + 1 }, (_, i) => 48 * i),
      at: Float64Array.from({ length: CELLS + 1 }, (_, i) => i / 2),
      parts: Uint8Array.from({ length: CELLS }, () => 2),
      weight: Uint8Array.from(weight),
    },
    events,
    layers: CELLS,
    states: flat.length,
    stateStart: Int32Array.from([...starts, flat.length]),
    statePlaced: Int32Array.from(flat, s => s.placed),
    statePattern: Int32Array.from(flat, s => s.pattern),
    moveStart: Int32Array.from(flat, (_, s) => moves.findIndex(m => m.from >= s)).map(i =>
      i < 0 ? moves.length : i,
    ),
    moveEnd: Int32Array.from(flat, (_, s) => moves.filter(m => m.from <= s).length),
    moveTo: Int32Array.from(moves, m => m.to),
    movePattern: Int32Array.from(moves, m => m.pattern),
    moveCost: Float64Array.from(moves, m => m.cost),
  };
  const walk = (state: number, c: number, patterns: readonly number[], cost: number): Way[] => {
    if (c === CELLS) return flat[state]?.placed === events && cost < Infinity ? [{ patterns, cost }] : [];
    return moves
      .filter(m => m.from === state)
      .flatMap(m => {
        const last = patterns.at(-1) ?? -1;
        let own = m.cost + ((m.pattern === last ? prices.again : prices.fresh)[m.pattern] ?? Infinity);
        // A beat that goes on with the last one's fine division, in another figure, is a habit.
        const finer = divisionOf(m.pattern) > 2 && last >= 0 && divisionOf(m.pattern) === divisionOf(last);
        if (finer && m.pattern !== last) own -= HABITS.goesOn;
        // A triplet of two beats is one figure.
        if (last === patternOf(3, 0b101) && m.pattern === patternOf(3, 0b010)) own -= HABITS.acrossBeats;
        if (maskOf(m.pattern) % 2 === 0) own += HABITS.silent[weight[c] ?? 3] ?? 0;
        return walk(m.to, c + 1, [...patterns, m.pattern], cost + own);
      });
  };
  return { graph, ways: walk(0, 0, [], 0).sort((a, b) => a.cost - b.cost) };
};

const ticksOf = (patterns: readonly number[]): number[] =>
  patterns.flatMap((pattern, c) => {
    const d = divisionOf(pattern) || 1;
    return Array.from({ length: d }, (_, i) => i)
      .filter(i => (maskOf(pattern) >> i) & 1)
      .map(i => 48 * c + (48 / d) * i);
  });

it('law: the k best ways are the k cheapest of all ways, each at its own price', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0, max: 4, noNaN: true }), { minLength: 11, maxLength: 11 }),
      fc.integer({ min: 1, max: 5 }),
      fc.integer({ min: 1, max: 6 }),
      (timing, events, k) => {
        const { graph, ways } = made(timing, events);
        const found = bestPaths(graph, { two: prices, three: prices }, HABITS, k);
        expect(found.map(p => p.cost.toFixed(9))).toEqual(ways.slice(0, k).map(w => w.cost.toFixed(9)));
        for (const path of found) {
          const same = ways
            .filter(w => Math.abs(w.cost - path.cost) < 1e-9)
            .map(w => ticksOf(w.patterns).join());
          expect(same).toContain([...path.ticks].join());
        }
      },
    ),
    { numRuns: 40 },
  );
});
