import type { Lattice } from './lattice.ts';
import { type Evidence, type Feel, type Habits, type Path, placeEvents, type Stage } from './programme.ts';
import { bookOf, type Vocabulary } from './prior.ts';
import { secondsAt, type TimeMap, ticksAt } from './timeMap.ts';

/** Ratios of a swung pair that are tried, with their cost in nats. */
export interface Swinging {
  readonly ratio: number;
  /** Which pairs swing: halves of a beat or quarters. */
  readonly of: 'half' | 'quarter';
  readonly cost: number;
}

export const STRAIGHT: Swinging = { ratio: 1, of: 'half', cost: 0 };

export interface Found {
  readonly ticks: Int32Array;
  /** Nats in all: rhythm, timing, vocabulary, swing. */
  readonly cost: number;
  readonly vocabulary: Vocabulary;
  readonly swing: Swinging;
  readonly feel: Feel;
}

export const HABITS: Habits = { same: 0.5, goesOn: 0.7, silentStrong: [0.4, 0.2, 0, 0] };

/** The cells a take reaches over, one before it and one after. */
export const stageFor = (lattice: Lattice, map: TimeMap, first: number, last: number): Stage => {
  const margin = 0.2;
  const fromBar = Math.floor(ticksAt(map, first - margin) / lattice.bar);
  const toBar = Math.floor(ticksAt(map, last + margin) / lattice.bar);
  const lowest = ticksAt(map, first - margin);
  const highest = ticksAt(map, last + margin);
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

const share = (ratio: number): number => ratio / (1 + ratio);

export const feelOf = (spread: number, late: number, swing: Swinging): Feel => ({
  spread,
  late,
  swingHalf: swing.of === 'half' ? share(swing.ratio) : 0.5,
  swingQuarter: swing.of === 'quarter' ? share(swing.ratio) : 0.5,
});

/** Distances of strikes from their places, in seconds, swing taken into account. */
export const residuals = (stage: Stage, evidence: Evidence, ticks: Int32Array, feel: Feel): Float64Array => {
  const out = new Float64Array(ticks.length);
  let c = 0;
  for (let i = 0; i < ticks.length; i++) {
    const tick = ticks[i] ?? 0;
    while (c < stage.start.length - 2 && (stage.start[c + 1] ?? 0) <= tick) c++;
    const start = stage.start[c] ?? 0;
    const length = (stage.start[c + 1] ?? 1) - start;
    const from = stage.at[c] ?? 0;
    let part = (tick - start) / length;
    if (stage.parts[c] === 2 && Math.round(part * 24) % 8 !== 0 && part !== 0) part = warp(part, feel);
    out[i] = (evidence.at[i] ?? 0) - from - part * ((stage.at[c + 1] ?? 0) - from);
  }
  return out;
};

const warp = (part: number, feel: Feel): number => {
  const h = feel.swingHalf;
  if (h !== 0.5) return part < 0.5 ? part * 2 * h : h + (part - 0.5) * 2 * (1 - h);
  const q = feel.swingQuarter;
  if (q === 0.5) return part;
  const base = part < 0.5 ? 0 : 0.5;
  const inner = (part - base) * 2;
  return base + (inner < 0.5 ? inner * 2 * q : q + (inner - 0.5) * 2 * (1 - q)) / 2;
};

/** Expected spread of a player, its weight in strikes; expected lateness and its spread. Seconds. */
export interface Player {
  readonly spread: number;
  readonly weight: number;
  readonly late: number;
  readonly lateSpread: number;
}
export const PLAYER: Player = { spread: 0.028, weight: 6, late: -0.005, lateSpread: 0.015 };
const LEAST_SPREAD = 0.008;

/** Spread and lateness of this take, drawn towards what players do. */
export const estimate = (off: Float64Array, player: Player): { spread: number; late: number } => {
  const sorted = [...off].sort((a, b) => a - b);
  const middle = sorted[sorted.length >> 1] ?? 0;
  const kept = sorted.filter(e => Math.abs(e - middle) < 5 * player.spread);
  const mean = kept.reduce((s, e) => s + e, 0) / Math.max(1, kept.length);
  let squares = player.weight * player.spread ** 2;
  for (const e of kept) squares += (e - mean) ** 2;
  const spread = Math.max(LEAST_SPREAD, Math.sqrt(squares / (player.weight + kept.length)));
  const trust = (kept.length * player.lateSpread ** 2) / (kept.length * player.lateSpread ** 2 + spread ** 2);
  return { spread, late: player.late + trust * (mean - player.late) };
};

/** The best ways of placing events on a known beat, over vocabularies and swings, best first. */
export const placeOnBeat = (
  stage: Stage,
  evidence: Evidence,
  vocabularies: readonly Vocabulary[],
  swings: readonly Swinging[],
  k: number,
): Found[] => {
  const n = evidence.at.length;
  const run = (v: Vocabulary, feel: Feel, deep: number): Path[] =>
    placeEvents(stage, evidence, { two: bookOf(v, 2), three: bookOf(v, 3) }, feel, HABITS, deep);
  const scale = (feel: Feel): number => n * Math.log(feel.spread / 0.03);
  const pairs = vocabularies.flatMap(v => swings.map(swing => ({ v, swing })));
  // First pass: the player's spread and lateness under each vocabulary and swing.
  const tried = pairs.map(({ v, swing }) => {
    let feel = feelOf(PLAYER.spread * 1.15, PLAYER.late, swing);
    let cost = Infinity;
    for (let round = 0; round < 2; round++) {
      const [best] = run(v, feel, 1);
      if (best === undefined) return { v, swing, feel, cost: Infinity };
      const told = estimate(residuals(stage, evidence, best.ticks, feel), PLAYER);
      cost = best.cost + scale(feel) + v.cost + swing.cost;
      feel = feelOf(told.spread, told.late, swing);
    }
    return { v, swing, feel, cost };
  });
  const best = Math.min(...tried.map(t => t.cost));
  const byPlaces = new Map<string, Found & { total: number }>();
  for (const t of tried) {
    if (t.cost > best + 9) continue;
    for (const path of run(t.v, t.feel, k)) {
      const cost = path.cost + scale(t.feel) + t.v.cost + t.swing.cost;
      const key = path.ticks.join();
      const known = byPlaces.get(key);
      if (known === undefined || cost < known.cost) {
        byPlaces.set(key, {
          ticks: path.ticks,
          cost,
          vocabulary: t.v,
          swing: t.swing,
          feel: t.feel,
          total: 0,
        });
      }
    }
  }
  return [...byPlaces.values()].sort((a, b) => a.cost - b.cost);
};
