import type { StruckEvent } from '../../take/clean.ts';
import type { Take } from '../../take/take.ts';

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

/** Two strikes further apart than this share of a beat are no repeat of each other. */
const TOLERANCE = 0.42;
/** A right place with a wrong bar counts this much. */
const WRONG_PITCH = 0.3;
/** Share of strikes that must come again for a period to be believed. */
const BELIEVED = 0.7;
/** Strikes that must come again. */
const FEWEST = 3;
const LONGEST = 8;

export const samePitches = (take: Take, a: StruckEvent, b: StruckEvent): boolean =>
  a.strikes.length === b.strikes.length &&
  a.strikes.every((s, i) => take.strikes[s]?.pitch === take.strikes[b.strikes[i] ?? -1]?.pitch);

/** Best pairing in order of events with those `shift` ticks later: a small alignment by dynamic programming. */
export const pairLater = (
  places: Float64Array,
  alike: (i: number, j: number) => boolean,
  shift: number,
  tolerance: number,
): { next: Int32Array; score: number; possible: number } => {
  const n = places.length;
  const next = new Int32Array(n).fill(-1);
  const last = places[n - 1] ?? 0;
  // Candidates of i are a short window; best[i][w] would be overkill: keep the best score ending at j.
  const best = new Float64Array(n + 1);
  const steps: { i: number; j: number; back: number }[] = [];
  const stepAt = new Int32Array(n + 1).fill(-1);
  let low = 0;
  let possible = 0;
  for (let i = 0; i < n; i++) {
    const target = (places[i] ?? 0) + shift;
    if (target <= last + tolerance * 0.5) possible++;
    while (low < n && (places[low] ?? 0) < target - tolerance) low++;
    let high = low;
    while (high < n && (places[high] ?? 0) <= target + tolerance) high++;
    // From the back, so that each event is used once.
    for (let j = high - 1; j >= low; j--) {
      const off = ((places[j] ?? 0) - target) / tolerance;
      const gain = (alike(i, j) ? 1 : WRONG_PITCH) * (1 - 0.5 * off * off);
      // best[j] = best score using later events below j
      let before = 0;
      let back = -1;
      for (let q = j; q >= Math.max(0, j - 12); q--) {
        if ((best[q] ?? 0) > before) {
          before = best[q] ?? 0;
          back = stepAt[q] ?? -1;
        }
      }
      if (before + gain > (best[j + 1] ?? 0)) {
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
  for (let s = stepAt[top] ?? -1; s >= 0; s = steps[s]?.back ?? -1) {
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
  const span = ((places[n - 1] ?? 0) - (places[0] ?? 0)) / bar;
  const alike = (i: number, j: number): boolean => {
    const a = events[i];
    const b = events[j];
    return a !== undefined && b !== undefined && samePitches(take, a, b);
  };
  let chosen: Repeats | undefined;
  for (let bars = 1; bars <= Math.min(LONGEST, span); bars++) {
    const { next, score, possible } = pairLater(places, alike, bars * bar, TOLERANCE * beat);
    const paired = next.reduce((count, j) => count + (j >= 0 ? 1 : 0), 0);
    const share = possible === 0 ? 0 : score / possible;
    // At least half as much music must come again as there is in one period.
    if (paired < FEWEST || possible < 0.3 * n || share < BELIEVED) continue;
    if (chosen === undefined || share > chosen.share + 0.12) chosen = { bars, next, share };
  }
  return chosen;
};
