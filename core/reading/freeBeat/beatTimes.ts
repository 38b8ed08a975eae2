import { realAt } from '../model/at.ts';
import { fitBeats } from './beatFit.ts';
import { lengthCost } from './beatLengths.ts';
import { NO_PIN } from '../search/cells.ts';
import { steadyBeat } from '../search/steadyBeat.ts';
import type { TimeMap } from '../search/timeMap.ts';
import { FITTED_DRIFTS, HELD_BEAT } from './constants.ts';
import { bendPair } from '../rhythm/swings.ts';

const swungCells = (tick: number, beat: number, half: number): number => {
  const cell = Math.floor(tick / beat);
  const part = tick / beat - cell;
  if (half === 0.5 || !Number.isInteger(part * 8)) return cell + part;
  return cell + bendPair(part, half);
};

interface Written {
  readonly ticks: Int32Array;
  readonly beat: number;
  readonly swingHalf: number;
  /** Seconds: spread and lateness of the strikes. */
  readonly spread: number;
  readonly parts: 2 | 3;
  /** Cells in which the player waited. */
  readonly held: readonly number[];
}

/** Beat times that suit written places (NO_PIN where a strike has none), with the nats they cost. */
export const beatTimesOf = (w: Written, at: Float64Array, guess: number): { map: TimeMap; cost: number } => {
  const known = Array.from(w.ticks, (t, i) => ({ t, at: realAt(at, i) })).filter(e => e.t !== NO_PIN);
  const cells = Float64Array.from(known, e => swungCells(e.t, w.beat, w.swingHalf));
  const times = Float64Array.from(known, e => e.at);
  let best: { map: TimeMap; cost: number } | undefined;
  let bestAll = Infinity;
  for (const drift of FITTED_DRIFTS) {
    const fit = fitBeats(cells, times, w.spread, drift, guess, w.held);
    const map: TimeMap = { beats: fit.beats, step: w.beat, zero: -fit.first };
    let misses = 0;
    known.forEach((e, i) => {
      const x = realAt(cells, i) - fit.first;
      const k = Math.min(fit.beats.length - 2, Math.floor(x));
      const from = realAt(fit.beats, k);
      misses += 0.5 * ((e.at - from - (x - k) * (realAt(fit.beats, k + 1) - from)) / w.spread) ** 2;
    });
    const length = steadyBeat(fit.beats);
    const cost =
      HELD_BEAT.cost * w.held.length +
      fit.cost +
      lengthCost(length, w.parts) -
      Math.log(length) +
      (drift > 0.03 ? 1 : 0);
    if (cost + misses < bestAll) {
      bestAll = cost + misses;
      best = { map, cost };
    }
  }
  return best ?? { map: { beats: Float64Array.from([0, guess]), step: w.beat, zero: 0 }, cost: Infinity };
};
