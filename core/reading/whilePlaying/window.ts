import type { Strike } from '../../take/take.ts';
import { type Lattice, latticeOf } from '../search/lattice.ts';
import { secondsAt, ticksAt, type TimeMap } from '../search/timeMap.ts';
import { EARLY, LOOK_BACK, MOST_WINDOWS, WINDOW_BEATS } from './constants.ts';
import type { WrittenBeat, WrittenMoment, WrittenSoFar } from './soFar.ts';

/** The last bars, which are read anew, and what lies before them, which is held. */
export interface ReadWindow {
  readonly lattice: Lattice;
  readonly map: TimeMap;
  /** Barline from which it is read, in ticks. */
  readonly from: number;
  /** Whether anything is held before it. */
  readonly held: readonly WrittenMoment[];
  /** Strikes after this, in seconds, are read. */
  readonly after: number;
}

/** Where a beat's times lie, as the search takes them. */
export const mapOfBeat = (beat: WrittenBeat): TimeMap => ({
  beats: Float64Array.from(beat.beats),
  step: beat.step,
  zero: beat.zero,
});

const lastStruck = (moments: readonly WrittenMoment[]): number =>
  moments.at(-1)?.struck.reduce((so, s) => Math.max(so, s.at), -Infinity) ?? -Infinity;

/**
 * What is read anew at a moment: the bar under way and as many before it as make some beats; more where
 * strikes have waited unread, for nothing may be left out.
 * @param unread the first strike that was never read, in seconds; Infinity for none
 * @param now seconds
 */
export const barsReadAt = (
  beat: WrittenBeat,
  moments: readonly WrittenMoment[],
  unread: number,
  now: number,
): ReadWindow => {
  const lattice = latticeOf(beat.metre);
  const map = mapOfBeat(beat);
  const bars = Math.ceil(WINDOW_BEATS / lattice.cells.length);
  const bar = Math.floor(ticksAt(map, now) / lattice.bar);
  const waiting = Math.floor(ticksAt(map, Math.min(unread, now) + EARLY) / lattice.bar);
  const from = lattice.bar * Math.max(bar - MOST_WINDOWS * bars, Math.min(bar - bars, waiting));
  const held = moments.filter(m => m.tick < from);
  const after = held.length > 0 ? lastStruck(held) : secondsAt(map, from) - EARLY;
  return { lattice, map, from, held, after };
};

/**
 * The time before which no strike is looked at when a phrase is written on; callers may leave those out.
 * @example readsFrom(undefined) // => -Infinity
 */
export const readsFrom = (so: WrittenSoFar | undefined): number => {
  if (so?.beat === undefined) return -Infinity;
  const { from, after } = barsReadAt(so.beat, so.moments, Infinity, lastStruck(so.moments));
  return Math.min(after, secondsAt(mapOfBeat(so.beat), from)) - LOOK_BACK + so.latency / 1000;
};

/**
 * The last strikes, from a time on; only those are looked at.
 * @param strikes in order of time
 */
export const strikesFrom = (strikes: readonly Strike[], from: number, most = Infinity): readonly Strike[] => {
  let first = strikes.length;
  while (first > 0 && strikes.length - first < most) {
    const before = strikes[first - 1];
    if (before === undefined || before.at < from) break;
    first--;
  }
  return strikes.slice(first);
};
