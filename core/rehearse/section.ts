import { add, type Fraction, subtract, toNumber } from '../foundation/fraction.ts';
import type { BarIndex, Seconds } from '../foundation/units.ts';
import { scoreLength } from '../playback/perform.ts';
import { secondsAtOnset } from '../playback/seconds.ts';
import type { Score } from '../score/score.ts';

/** A run of bars to be rehearsed, both ends included; an upbeat is a bar. */
export interface RehearsedBars {
  readonly first: BarIndex;
  readonly last: BarIndex;
}

/** The same in places and in time. */
export interface SectionInTime {
  /** From the first full barline, in semibreves. */
  readonly start: Fraction;
  /** From the start of the score, at the written speed. */
  readonly from: Seconds;
  readonly to: Seconds;
}

/**
 * Bars brought into the score: what lies beyond its end is its last bar.
 * @example
 * barsWithin({ first: 2, last: 9 }, 4) // => { first: 2, last: 3 }
 * barsWithin({ first: 7, last: 5 }, 4) // => { first: 3, last: 3 }
 */
export const barsWithin = (bars: RehearsedBars, barCount: number): RehearsedBars => {
  const inside = (bar: number): number => Math.max(0, Math.min(barCount - 1, Math.round(bar)));
  const first = inside(bars.first);
  return { first, last: Math.max(first, inside(bars.last)) };
};

/**
 * Where a run of bars begins, and its time in the sound.
 * @param score without repeat bars, or played out
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(2), notes: [{ onset: fraction(1), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * const { from, to } = sectionInTime(score, { first: 1, last: 1 });
 * [from, to] // => [4, 8]
 */
export const sectionInTime = (score: Score, wanted: RehearsedBars): SectionInTime => {
  const { first, last } = barsWithin(wanted, score.barCount);
  const bars = score.parts[0]?.bars ?? [];
  const start = bars[first]?.start ?? subtract({ n: 0, d: 1 }, score.upbeat);
  const ending = bars[last];
  const end = ending === undefined ? scoreLength(score) : add(add(ending.start, ending.length), score.upbeat);
  return {
    start,
    from: toNumber(start) <= -toNumber(score.upbeat) ? 0 : secondsAtOnset(score, add(start, score.upbeat)),
    to: secondsAtOnset(score, end),
  };
};
