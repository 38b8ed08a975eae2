import { secondsAt, ticksAt, type TimeMap } from '../search/timeMap.ts';

/**
 * How late taps are against the strikes they were tapped to. A tap goes through ear, hand, screen and
 * loudspeaker, which can take a tenth of a second and more, always about the same. What is struck falls
 * on beats and halves far more often than elsewhere, so the shift under which it does shows itself.
 */

/** Shares of a beat at which strikes fall, with how often (rough shares of written music, our choice). */
const PLACES: readonly (readonly [number, number])[] = [
  [0, 0.46],
  [1 / 2, 0.24],
  [1 / 4, 0.07],
  [3 / 4, 0.09],
  [1 / 3, 0.05],
  [2 / 3, 0.07],
];
/** Chance that a strike falls anywhere. */
const ANYWHERE = 0.02;
/** Seconds: spread of strikes about smoothed taps. */
const SPREAD = 0.03;
/** Seconds: what is expected of the lateness of taps before anything is heard, and its spread. */
const USUAL = 0.03;
const USUAL_LATER = 0.12;
const USUAL_EARLIER = 0.04;
const STEP = 0.005;
/** Taps later (or earlier) than this share of a beat cannot be told from taps on the next (or last) place. */
const FURTHEST = 0.45;
/** Shifts closer than this are one answer. */
const APART = 0.04;

/** Nats for taps that are so late: systems add to it, anticipation takes little away. */
export const latenessCost = (seconds: number): number =>
  0.5 * ((seconds - USUAL) / (seconds > USUAL ? USUAL_LATER : USUAL_EARLIER)) ** 2;

/** Shifts in seconds to take off the taps, likeliest first, each with its nats; at most `most`. */
export const tapShifts = (
  map: TimeMap,
  at: Float64Array,
  most: number,
): readonly { readonly seconds: number; readonly cost: number }[] => {
  const beat = (secondsAt(map, map.step * map.beats.length) - secondsAt(map, 0)) / map.beats.length;
  const limit = FURTHEST * beat;
  const all: { seconds: number; cost: number }[] = [];
  for (let k = Math.ceil(-limit / STEP); k <= limit / STEP; k++) {
    const seconds = k * STEP;
    let cost = latenessCost(seconds);
    for (const t of at) cost -= Math.log(chanceAt(ticksAt(map, t + seconds) / map.step, beat));
    all.push({ seconds, cost });
  }
  all.sort((x, y) => x.cost - y.cost || Math.abs(x.seconds) - Math.abs(y.seconds));
  const chosen: { seconds: number; cost: number }[] = [];
  for (const shift of all) {
    if (chosen.length >= most) break;
    if (chosen.every(c => Math.abs(c.seconds - shift.seconds) > APART)) chosen.push(shift);
  }
  return chosen;
};

const chanceAt = (beats: number, seconds: number): number => {
  const share = beats - Math.floor(beats);
  let chance = ANYWHERE;
  for (const [place, often] of PLACES) {
    const away = Math.abs(share - place);
    const z = (Math.min(away, 1 - away) * seconds) / SPREAD;
    chance += often * Math.exp(-0.5 * z * z);
  }
  return chance;
};
