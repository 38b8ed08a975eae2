import { realAt } from '../model/at.ts';
import { HELD_BEAT } from './constants.ts';
/**
 * Beat times for places already written: as near to the strikes as the player's spread allows, while
 * each beat is about as long as the last (a random walk of the beat length). The least-squares
 * solution is a banded system, solved in time proportional to its length.
 */
export interface BeatFit {
  /** Seconds at the start of each cell, from cell `first` on. */
  readonly beats: Float64Array;
  readonly first: number;
  /**
   * Nats of the beat's own unsteadiness, and of having chosen the beat to suit the strikes (minus the
   * logarithm of the share of beats that would suit as well).
   */
  readonly cost: number;
}

/**
 * @param shares place of each strike in cells (not whole between beats), swing already applied
 * @param at strike times in seconds
 * @param spread of strikes, seconds
 * @param drift spread of the change of beat length from beat to beat, as a share of it
 * @param guess seconds of a beat, where no strike decides
 * @param held cells in which the player waited: they may last much longer, and the tempo is the same before and after
 * @example Array.from(fitBeats(Float64Array.of(0, 1, 2), Float64Array.of(1, 1.5, 2), 0.02, 0.02, 0.5).beats, b => b.toFixed(2)).join() // => '1.00,1.50,2.00,2.50'
 */
export const fitBeats = (
  shares: Float64Array,
  at: Float64Array,
  spread: number,
  drift: number,
  guess: number,
  held: readonly number[] = [],
): BeatFit => {
  const n = shares.length;
  const first = Math.floor(realAt(shares, 0));
  const last = Math.floor(realAt(shares, n - 1) + 1e-9) + 1;
  const size = last - first + 1;
  const d0 = new Float64Array(size).fill(1e-9);
  const d1 = new Float64Array(size);
  const d2 = new Float64Array(size);
  const d3 = new Float64Array(size);
  const rhs = new Float64Array(size);
  const w = 1 / spread ** 2;
  for (let i = 0; i < n; i++) {
    const x = realAt(shares, i) - first;
    const k = Math.min(size - 2, Math.max(0, Math.floor(x)));
    const f = x - k;
    const t = realAt(at, i);
    d0[k] = realAt(d0, k) + w * (1 - f) ** 2;
    d0[k + 1] = realAt(d0, k + 1) + w * f * f;
    d1[k] = realAt(d1, k) + w * f * (1 - f);
    rhs[k] = realAt(rhs, k) + w * (1 - f) * t;
    rhs[k + 1] = realAt(rhs, k + 1) + w * f * t;
  }
  const v = 1 / (drift * guess) ** 2;
  const waits = new Set(held.map(cell => cell - first).filter(k => k > 0 && k + 1 < size));
  const free = 1 / (HELD_BEAT.spread * guess) ** 2;
  let steadiness = 0;
  for (let k = 0; k + 2 < size; k++) {
    if (waits.has(k + 1)) continue;
    if (waits.has(k)) {
      // The beat after a held one is as long as the beat before it.
      steadiness += Math.log(v);
      d0[k - 1] = realAt(d0, k - 1) + v;
      d0[k] = realAt(d0, k) + v;
      d0[k + 1] = realAt(d0, k + 1) + v;
      d0[k + 2] = realAt(d0, k + 2) + v;
      d1[k - 1] = realAt(d1, k - 1) - v;
      d1[k] = realAt(d1, k) + v;
      d1[k + 1] = realAt(d1, k + 1) - v;
      d2[k - 1] = realAt(d2, k - 1) - v;
      d2[k] = realAt(d2, k) - v;
      d3[k - 1] = realAt(d3, k - 1) + v;
      continue;
    }
    steadiness += Math.log(v);
    d0[k] = realAt(d0, k) + v;
    d0[k + 1] = realAt(d0, k + 1) + 4 * v;
    d0[k + 2] = realAt(d0, k + 2) + v;
    d1[k] = realAt(d1, k) - 2 * v;
    d1[k + 1] = realAt(d1, k + 1) - 2 * v;
    d2[k] = realAt(d2, k) + v;
  }
  const heldLength = (1 + HELD_BEAT.longer) * guess;
  for (const k of waits) {
    steadiness += Math.log(free);
    d0[k] = realAt(d0, k) + free;
    d0[k + 1] = realAt(d0, k + 1) + free;
    d1[k] = realAt(d1, k) - free;
    rhs[k] = realAt(rhs, k) - free * heldLength;
    rhs[k + 1] = realAt(rhs, k + 1) + free * heldLength;
  }
  // Faintly, each beat is as long as guessed: decides what no strike decides (a single beat).
  const faint = 1 / (0.1 * guess) ** 2 / size;
  for (let k = 0; k + 1 < size; k++) {
    if (waits.has(k)) continue;
    d0[k] = realAt(d0, k) + faint;
    d0[k + 1] = realAt(d0, k + 1) + faint;
    d1[k] = realAt(d1, k) - faint;
    rhs[k] = realAt(rhs, k) - faint * guess;
    rhs[k + 1] = realAt(rhs, k + 1) + faint * guess;
  }
  const { x: beats, logDeterminant } = solveBanded(d0, d1, d2, d3, rhs);
  const lengthOf = (k: number): number => realAt(beats, k + 1) - realAt(beats, k);
  let uneven = 0;
  for (let k = 0; k + 2 < size; k++) {
    if (waits.has(k + 1)) continue;
    uneven += 0.5 * v * (lengthOf(k + 1) - lengthOf(waits.has(k) ? k - 1 : k)) ** 2;
  }
  for (const k of waits) uneven += 0.5 * free * (lengthOf(k) - heldLength) ** 2;
  const volume = 0.5 * (logDeterminant - steadiness);
  return { beats, first, cost: uneven + volume };
};

/** Solves a symmetric system of three side bands (LDLᵀ). */
const solveBanded = (
  d0: Float64Array,
  d1: Float64Array,
  d2: Float64Array,
  d3: Float64Array,
  rhs: Float64Array,
): { x: Float64Array; logDeterminant: number } => {
  const n = d0.length;
  const d = new Float64Array(n);
  const l1 = new Float64Array(n);
  const l2 = new Float64Array(n);
  const l3 = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    let diagonal = realAt(d0, k);
    let side = realAt(d1, k);
    let second = realAt(d2, k);
    if (k >= 1) {
      const l = realAt(l1, k - 1);
      const pivot = realAt(d, k - 1);
      diagonal -= l * l * pivot;
      side -= l * realAt(l2, k - 1) * pivot;
      second -= l * realAt(l3, k - 1) * pivot;
    }
    if (k >= 2) {
      const l = realAt(l2, k - 2);
      const pivot = realAt(d, k - 2);
      diagonal -= l * l * pivot;
      side -= l * realAt(l3, k - 2) * pivot;
    }
    if (k >= 3) diagonal -= realAt(l3, k - 3) ** 2 * realAt(d, k - 3);
    d[k] = diagonal;
    l1[k] = side / diagonal;
    l2[k] = second / diagonal;
    l3[k] = realAt(d3, k) / diagonal;
  }
  const x = Float64Array.from(rhs);
  for (let k = 0; k < n; k++) {
    if (k >= 1) x[k] = realAt(x, k) - realAt(l1, k - 1) * realAt(x, k - 1);
    if (k >= 2) x[k] = realAt(x, k) - realAt(l2, k - 2) * realAt(x, k - 2);
    if (k >= 3) x[k] = realAt(x, k) - realAt(l3, k - 3) * realAt(x, k - 3);
  }
  for (let k = 0; k < n; k++) x[k] = realAt(x, k) / realAt(d, k);
  for (let k = n - 1; k >= 0; k--) {
    if (k + 1 < n) x[k] = realAt(x, k) - realAt(l1, k) * realAt(x, k + 1);
    if (k + 2 < n) x[k] = realAt(x, k) - realAt(l2, k) * realAt(x, k + 2);
    if (k + 3 < n) x[k] = realAt(x, k) - realAt(l3, k) * realAt(x, k + 3);
  }
  let logDeterminant = 0;
  for (const pivot of d) logDeterminant += Math.log(pivot);
  return { x, logDeterminant };
};
