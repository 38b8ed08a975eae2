import { secondsAt, ticksAt, type TimeMap } from '../search/timeMap.ts';
import {
  PLACES_STRUCK,
  STRUCK_ANYWHERE,
  TAPPED_SPREAD,
  TAPS_LATE,
  TAPS_LATER,
  TAPS_EARLIER,
  SHIFT_STEP,
  FURTHEST_SHIFT,
  SHIFTS_APART,
} from './constants.ts';

/**
 * How late taps are against the strikes they were tapped to. A tap goes through ear, hand, screen and
 * loudspeaker, which can take a tenth of a second and more, always about the same. What is struck falls
 * on beats and halves far more often than elsewhere, so the shift under which it does shows itself.
 */

/**
 * Nats for taps that are so late: systems add to it, anticipation takes little away.
 * @param seconds late, early below 0
 * @example
 * latenessCost(TAPS_LATE) // => 0
 * latenessCost(-0.1) > latenessCost(0.1) // => true
 */
export const latenessCost = (seconds: number): number =>
  0.5 * ((seconds - TAPS_LATE) / (seconds > TAPS_LATE ? TAPS_LATER : TAPS_EARLIER)) ** 2;

/** Shifts in seconds to take off the taps, likeliest first, each with its nats; at most `most`. */
export const tapShifts = (
  map: TimeMap,
  at: Float64Array,
  most: number,
): readonly { readonly seconds: number; readonly cost: number }[] => {
  const beat = (secondsAt(map, map.step * map.beats.length) - secondsAt(map, 0)) / map.beats.length;
  const limit = FURTHEST_SHIFT * beat;
  const all: { seconds: number; cost: number }[] = [];
  for (let k = Math.ceil(-limit / SHIFT_STEP); k <= limit / SHIFT_STEP; k++) {
    const seconds = k * SHIFT_STEP;
    let cost = latenessCost(seconds);
    for (const t of at) cost -= Math.log(chanceAt(ticksAt(map, t + seconds) / map.step, beat));
    all.push({ seconds, cost });
  }
  all.sort((x, y) => x.cost - y.cost || Math.abs(x.seconds) - Math.abs(y.seconds));
  const chosen: { seconds: number; cost: number }[] = [];
  for (const shift of all) {
    if (chosen.length >= most) break;
    if (chosen.every(c => Math.abs(c.seconds - shift.seconds) > SHIFTS_APART)) chosen.push(shift);
  }
  return chosen;
};

const chanceAt = (beats: number, seconds: number): number => {
  const share = beats - Math.floor(beats);
  let chance = STRUCK_ANYWHERE;
  for (const [place, often] of PLACES_STRUCK) {
    const away = Math.abs(share - place);
    const z = (Math.min(away, 1 - away) * seconds) / TAPPED_SPREAD;
    chance += often * Math.exp(-0.5 * z * z);
  }
  return chance;
};
