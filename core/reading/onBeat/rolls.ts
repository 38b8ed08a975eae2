import { toNumber } from '../../foundation/fraction.ts';
import type { FastRun } from '../../take/fastRuns.ts';
import type { Take } from '../../take/take.ts';
import type { SeenPage } from '../model/reading.ts';
import { ticksAt, type TimeMap } from '../search/timeMap.ts';
import { MEASURED } from './constants.ts';

/**
 * Whether fast strokes keep the time of a beat: as many of them as there are places of one value in their time. A
 * roll keeps none, and values so short that nobody strikes them in time say nothing.
 * @param map the beat, in ticks and seconds with lateness taken off
 * @param over `bars` for strokes over neighbouring bars, which hands keep in time down to shorter values
 * @example
 * const strikes = Array.from({ length: 9 }, (_, i) => ({ at: 1 + i / 10, pitch: 60, velocity: 80 }));
 * const take = { id: '', capturedAt: '', source: 'file', from: '', latency: 0, lengthsMean: false, strikes };
 * const crotchets = length => ({ beats: Float64Array.of(1, 1 + length), step: 48, zero: 0 });
 * keepsTime([0, 1, 2, 3, 4, 5, 6, 7, 8], take, crotchets(0.4)) // => true
 * keepsTime([0, 1, 2, 3, 4, 5, 6, 7, 8], take, crotchets(0.52)) // => false
 */
export const keepsTime = (
  run: FastRun,
  take: Take,
  map: TimeMap,
  over: 'values' | 'bars' = 'values',
): boolean => {
  const late = take.latency / 1000;
  const first = (take.strikes[run[0] ?? 0]?.at ?? 0) - late;
  const last = (take.strikes[run.at(-1) ?? 0]?.at ?? 0) - late;
  const ticks = ticksAt(map, last) - ticksAt(map, first);
  const strokes = run.length - 1;
  return MEASURED[over].some(value => {
    const seconds = ((last - first) / ticks) * value.ticks;
    return seconds >= value.shortest && Math.abs(ticks / value.ticks - strokes) <= MEASURED.drift[over];
  });
};

/** Of the runs that may be rolls those that a page shows as such: all their strokes but the first have no place on it. */
export const rollsOnPage = (runs: readonly FastRun[], page: SeenPage): readonly FastRun[] => {
  const stands = new Map(page.positions.map(p => [p.strike, toNumber(p.onset)]));
  return runs.filter(([first, ...rest]) => {
    const at = stands.get(first ?? -1);
    return at !== undefined && rest.every(i => stands.get(i) === undefined || stands.get(i) === at);
  });
};
