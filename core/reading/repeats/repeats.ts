import { itemAt, intAt, realAt } from '../model/at.ts';
import type { StruckEvent } from '../../take/clean.ts';
import type { Take } from '../../take/take.ts';
import {
  REPEAT_TOLERANCE,
  OTHER_PITCH,
  REPEATS_BELIEVED,
  FEWEST_REPEATED,
  LONGEST_PERIOD,
} from './constants.ts';

/**
 * Finding out that the player played one idea several times: every strike is paired with the strike
 * one period later, by place and by pitch together, in order. Places are in ticks, not rounded.
 */
export interface Repeats {
  /** Bars after which the idea comes again. */
  readonly bars: number;
  /** For every event the event one period later that repeats it, or -1. */
  readonly next: Int32Array;
  /** Share of the events that could be repeated which are, 0 to 1. */
  readonly share: number;
}

/**
 * Whether two events struck the same pitches, as many of each.
 * @example samePitches({ id: '', capturedAt: '', source: 'file', from: '', latency: 0, lengthsMean: false, strikes: [0, 1].map(at => ({ at, pitch: 60, velocity: 90 })) }, { at: 0, strikes: [0], velocity: 90 }, { at: 1, strikes: [1], velocity: 90 }) // => true
 */
export const samePitches = (take: Take, a: StruckEvent, b: StruckEvent): boolean =>
  a.strikes.length === b.strikes.length &&
  a.strikes.every((s, i) => take.strikes[s]?.pitch === take.strikes[itemAt(b.strikes, i)]?.pitch);

/**
 * Best pairing in order of events with those `shift` ticks later: a small alignment by dynamic programming.
 * @param shift and tolerance in the units of the places
 * @returns for every event the one paired with it or -1, the pairs' worth, and how many could be paired
 * @example pairLater(Float64Array.of(0, 1, 4, 5), () => true, 4, 0.5).next // => Int32Array.of(2, 3, -1, -1)
 */
export const pairLater = (
  places: Float64Array,
  alike: (i: number, j: number) => boolean,
  shift: number,
  tolerance: number,
): { next: Int32Array; score: number; possible: number } => {
  const n = places.length;
  const next = new Int32Array(n).fill(-1);
  const last = realAt(places, n - 1);
  // Candidates of i are a short window; best[i][w] would be overkill: keep the best score ending at j.
  const best = new Float64Array(n + 1);
  const steps: { i: number; j: number; back: number }[] = [];
  const stepAt = new Int32Array(n + 1).fill(-1);
  let low = 0;
  let possible = 0;
  for (let i = 0; i < n; i++) {
    const target = realAt(places, i) + shift;
    if (target <= last + tolerance * 0.5) possible++;
    while (low < n && realAt(places, low) < target - tolerance) low++;
    let high = low;
    while (high < n && realAt(places, high) <= target + tolerance) high++;
    // From the back, so that each event is used once.
    for (let j = high - 1; j >= low; j--) {
      const off = (realAt(places, j) - target) / tolerance;
      const gain = (alike(i, j) ? 1 : OTHER_PITCH) * (1 - 0.5 * off * off);
      // best[j] = best score using later events below j
      let before = 0;
      let back = -1;
      for (let q = j; q >= Math.max(0, j - 12); q--) {
        if (realAt(best, q) > before) {
          before = realAt(best, q);
          back = intAt(stepAt, q);
        }
      }
      if (before + gain > realAt(best, j + 1)) {
        best[j + 1] = before + gain;
        steps.push({ i, j, back });
        stepAt[j + 1] = steps.length - 1;
      }
    }
  }
  let top = 0;
  let score = 0;
  best.forEach((b, q) => {
    if (b > score) {
      score = b;
      top = q;
    }
  });
  for (let s = intAt(stepAt, top); s >= 0; s = steps[s]?.back ?? -1) {
    const step = steps[s];
    if (step !== undefined) next[step.i] = step.j;
  }
  return { next, score, possible };
};

/**
 * The shortest believable period in whole bars, or undefined.
 * @param places places of the events in ticks, not rounded
 * @param bar ticks in a bar
 * @param beat ticks in a cell
 */
export const findRepeats = (
  take: Take,
  events: readonly StruckEvent[],
  places: Float64Array,
  bar: number,
  beat: number,
): Repeats | undefined => {
  const n = places.length;
  const span = (realAt(places, n - 1) - realAt(places, 0)) / bar;
  const alike = (i: number, j: number): boolean => {
    const a = events[i];
    const b = events[j];
    return a !== undefined && b !== undefined && samePitches(take, a, b);
  };
  let chosen: Repeats | undefined;
  for (let bars = 1; bars <= Math.min(LONGEST_PERIOD, span); bars++) {
    const { next, score, possible } = pairLater(places, alike, bars * bar, REPEAT_TOLERANCE * beat);
    const paired = next.reduce((count, j) => count + (j >= 0 ? 1 : 0), 0);
    const share = possible === 0 ? 0 : score / possible;
    // At least half as much music must come again as there is in one period.
    if (paired < FEWEST_REPEATED || possible < 0.3 * n || share < REPEATS_BELIEVED) continue;
    if (chosen === undefined || share > chosen.share + 0.12) chosen = { bars, next, share };
  }
  return chosen;
};
