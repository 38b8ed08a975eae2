import type { Milliseconds, Seconds } from '../foundation/units.ts';
import type { Score } from '../score/score.ts';
import { expectedStrokes, overAndOver } from './expected.ts';
import { noticed, type Noticed, type PlayedStroke } from './notice.ts';
import { pageAt, ofPass, timesThrough } from './passes.ts';
import { type RehearsedBars, sectionInTime } from './section.ts';
import { lateAlike, type Said, said } from './toMend.ts';

/** Something noticed, with where it stands on the page. */
export type OnItsPlace = Noticed & { readonly place: number };

/** What came of rehearsing one part. */
export interface RehearsedPart {
  readonly part: string;
  readonly noticed: readonly OnItsPlace[];
  readonly said: Said;
  /** How late the device itself seems to be. */
  readonly device: Milliseconds | undefined;
  /** Everything struck, from the start of the music on. */
  readonly strikes: readonly PlayedStroke[];
}

/** What came of playing along. */
export interface WhatWasPlayed {
  readonly bars: RehearsedBars;
  /** 1 as written. */
  readonly speed: number;
  readonly parts: readonly RehearsedPart[];
  /** Which time through is told, from 1, of how many that were begun. */
  readonly time: number;
  readonly times: number;
}

/** What was played of which parts, and for how long. */
export interface PlayedAlong {
  readonly bars: RehearsedBars;
  readonly speed: number;
  readonly loop: boolean;
  /** Seconds from the start of the music to its end, or to when it was stopped. */
  readonly lasted: Seconds;
  readonly ended: boolean;
  readonly strikes: Readonly<Record<string, readonly PlayedStroke[]>>;
}

/**
 * What there is to say of what was played along: of the last time through that was played to its end and struck
 * at all, each part by itself.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * const played = { bars: { first: 0, last: 0 }, speed: 1, loop: false, lasted: 4, ended: true, strikes: { p1: [{ at: 0, pitch: 60, velocity: 90 }] } };
 * playingAlong(score, played).parts[0].said.sentence // => 'Every stroke was in its place.'
 */
export const playingAlong = (score: Score, played: PlayedAlong): WhatWasPlayed => {
  const { bars, speed, strikes } = played;
  const { from, to } = sectionInTime(score, bars);
  const pass = (to - from) / speed;
  const { begun, whole } = played.loop ? timesThrough(played.lasted, pass) : { begun: 1, whole: 1 };
  const struckIn = (k: number): boolean =>
    Object.values(strikes).some(all => all.some(({ at }) => Math.floor(Math.max(0, at) / pass) === k));
  const told = Array.from({ length: Math.max(1, whole) }, (_, k) => k)
    .filter(struckIn)
    .at(-1);
  const time = played.loop ? (told ?? 0) : 0;
  const at = pageAt(score, bars, speed);
  const parts = Object.entries(strikes).map(([part, given]): RehearsedPart => {
    const once = expectedStrokes(score, { part, bars, speed });
    const expected = overAndOver(once, begun, pass);
    const all = noticed(expected, given, played.ended ? Infinity : played.lasted);
    const mine = played.loop ? ofPass(all, time, pass) : all;
    return {
      part,
      noticed: mine.map(one => ({
        ...one,
        place: one.kind === 'added' ? at(one.played.at).place : one.written.place,
      })),
      said: said(score, once, mine, seconds => at(seconds).bar),
      device: lateAlike(all),
      strikes: given,
    };
  });
  return { bars, speed, parts, time: time + 1, times: begun };
};
