import { toNumber } from '../foundation/fraction.ts';
import type { BarIndex, Seconds, Semibreves } from '../foundation/units.ts';
import { placesByTime } from '../playback/placeAt.ts';
import type { Score } from '../score/score.ts';
import type { Noticed } from './notice.ts';
import { type RehearsedBars, sectionInTime } from './section.ts';

/**
 * How often bars were begun, and how often they were played to their end, by the time it was stopped.
 * @param pass how long one time through lasts, in seconds
 * @example
 * timesThrough(9, 4) // => { begun: 3, whole: 2 }
 * timesThrough(1, 4) // => { begun: 1, whole: 0 }
 */
export const timesThrough = (
  played: Seconds,
  pass: Seconds,
): { readonly begun: number; readonly whole: number } => {
  const whole = Math.max(0, Math.floor(played / pass + 1e-6));
  return { begun: Math.max(1, Math.ceil(played / pass - 1e-6)), whole };
};

/**
 * What was noticed in one time through, from 0.
 * @example
 * const blow = { at: 5, pitch: 60, velocity: 90 };
 * ofPass([{ kind: 'added', played: blow }], 1, 4).length // => 1
 */
export const ofPass = (all: readonly Noticed[], pass: number, length: Seconds): readonly Noticed[] =>
  all.filter(one =>
    one.kind === 'added'
      ? Math.max(0, Math.floor(one.played.at / length)) === pass
      : one.written.pass === pass,
  );

/** Where on the page a time of a rehearsal lies. */
export interface OnPage {
  readonly place: Semibreves;
  readonly bar: BarIndex;
}

/**
 * Where on the page a blow lies that answers no stroke: the place being heard then, whatever time through it is.
 * @param speed 1 as written
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(2), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * pageAt(score, { first: 1, last: 1 }, 0.5)(2) // => { place: 1.25, bar: 1 }
 * pageAt(score, { first: 1, last: 1 }, 0.5)(10) // => { place: 1.25, bar: 1 }
 */
export const pageAt = (score: Score, bars: RehearsedBars, speed: number): ((at: Seconds) => OnPage) => {
  const { from, to } = sectionInTime(score, bars);
  const placeAt = placesByTime(score);
  const starts = (score.parts[0]?.bars ?? []).map(bar => toNumber(bar.start));
  return at => {
    const written = at * speed;
    const inside = written < 0 ? 0 : written % (to - from);
    const place = placeAt(from + inside);
    const bar = starts.filter(start => start <= place + 1e-6).length - 1;
    return { place, bar: Math.max(0, bar) };
  };
};
