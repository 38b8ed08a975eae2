import { add, fraction, toNumber } from '../foundation/fraction.ts';
import { barLength, tactus } from '../foundation/metre.ts';
import type { Seconds } from '../foundation/units.ts';
import { barOfPlace, metreAt } from '../score/metreAt.ts';
import type { Score } from '../score/score.ts';
import type { HeardClick } from './compare.ts';
import type { Rendition } from './events.ts';
import { secondsAtOnset } from './seconds.ts';

/** A performance with a bar counted before it, all on one clock that begins with the count. */
export interface CountedIn {
  readonly performance: Rendition;
  readonly click: HeardClick;
  /** Seconds from the first beat counted to the place where the music begins. */
  readonly lead: Seconds;
  /** Where that beat lies on the page, in semibreves from the first barline. */
  readonly countsFrom: number;
}

/** Finest place a performance begins at, as part of a semibreve. */
const FINEST = 192;

/**
 * A performance from a place on, counted in by one bar in the tempo of that place: where the music begins within
 * a bar, as with an upbeat, the beats of that bar before it are counted too (common practice, no source).
 * @param score the performance's own
 * @param performance of the whole score
 * @param place where it begins, in semibreves from the first barline
 * @example
 * const idea = { key: key('C'), metre: metre(3, 4), length: fraction(3, 4), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * const { click, lead, performance } = countedIn(score, perform(score), 0);
 * click.beats // => [0, 1, 2]
 * click.accents // => [true, false, false]
 * [lead, performance.events[0]?.seconds] // => [3, 3]
 */
export const countedIn = (score: Score, performance: Rendition, place: number): CountedIn => {
  const at = fraction(Math.round(place * FINEST), FINEST);
  const here = barOfPlace(score.parts[0]?.bars ?? [], at);
  const metre = metreAt(score, here?.index ?? 0);
  const bar = toNumber(barLength(metre));
  const step = toNumber(tactus(metre));
  const barline = here === undefined || here.start.n < 0 ? 0 : toNumber(here.start);
  const into = place - barline - Math.floor((place - barline) / bar + 1e-9) * bar;
  const beats = Math.round((bar + into) / step);
  const onset = add(at, score.upbeat);
  const from = secondsAtOnset(score, onset);
  const beat = secondsAtOnset(score, add(onset, tactus(metre))) - from;
  const lead = beats * beat;
  const perBar = Math.round(bar / step);
  const events = performance.events
    .filter(event => event.seconds >= from - 1e-6)
    .map(event => ({ ...event, seconds: event.seconds - from + lead }));
  return {
    performance: { events, duration: Math.max(0, performance.duration - from) + lead },
    click: {
      beats: Array.from({ length: beats }, (_, i) => i * beat),
      accents: Array.from({ length: beats }, (_, i) => i % perBar === 0),
    },
    lead,
    countsFrom: place - beats * step,
  };
};
