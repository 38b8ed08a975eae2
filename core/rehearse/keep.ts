import { INSTRUMENTS } from '../instruments/instruments.ts';
import type { KeptPlaying } from '../piece/keptPlaying.ts';
import { metreAt } from '../score/metreAt.ts';
import type { Score } from '../score/score.ts';
import type { Take, TakeSource } from '../take/take.ts';
import { clickOfScore } from '../playback/compare.ts';
import type { RehearsedPart, WhatWasPlayed } from './result.ts';
import { sectionInTime } from './section.ts';

const sourceOf = (part: RehearsedPart): TakeSource => {
  const sources = [...new Set(part.strikes.flatMap(stroke => stroke.by?.source ?? []))];
  return sources.length === 1 ? (sources[0] ?? 'mixed') : 'mixed';
};

/**
 * What was played, to be kept beside what is written: the time through that was told of, as takes with their own
 * times and the beats they were played to. Parts nobody struck are left out.
 * @param id sortable and unique
 * @param capturedAt ISO 8601 date and time
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * const played = playingAlong(score, { bars: { first: 0, last: 0 }, speed: 0.5, loop: false, lasted: 8, ended: true, strikes: { p1: [{ at: 0.02, pitch: 60, velocity: 90 }] } });
 * const kept = keptPlaying(score, played, 'k1', '2026-01-01T00:00:00.000Z');
 * kept.parts[0].take.strikes // => [{ at: 0.02, pitch: 60, velocity: 90 }]
 * kept.parts[0].take.click.beats // => [0, 2, 4, 6]
 */
export const keptPlaying = (
  score: Score,
  played: WhatWasPlayed,
  id: string,
  capturedAt: string,
): KeptPlaying => {
  const { bars, speed } = played;
  const { from, to } = sectionInTime(score, bars);
  const pass = (to - from) / speed;
  const start = (played.time - 1) * pass;
  const beats = clickOfScore(score)
    .beats.filter(at => at >= from - 1e-6 && at < to - 1e-6)
    .map(at => (at - from) / speed);
  const take = (part: RehearsedPart): Take => {
    const mine = part.noticed.flatMap(one => ('played' in one ? [one.played] : []));
    // The blows of a roll are told with their note, and were played all the same.
    const between = part.strikes.filter(
      stroke => mine.includes(stroke) || (stroke.at >= start && stroke.at < start + pass),
    );
    return {
      id: `${id}-${part.part}`,
      capturedAt,
      source: sourceOf(part),
      from: [...new Set(part.strikes.flatMap(stroke => stroke.by?.name ?? []))].join(', '),
      ...(beats.length < 2 ? {} : { click: { metre: metreAt(score, bars.first), beats } }),
      latency: 0,
      strikes: between
        .map(({ at, pitch, velocity }) => ({ at: at - start, pitch, velocity }))
        .sort((a, b) => a.at - b.at),
      lengthsMean: false,
    };
  };
  return {
    id,
    first: bars.first,
    last: bars.last,
    speed,
    parts: played.parts
      .filter(part => part.strikes.length > 0)
      .flatMap(part => {
        const written = score.parts.find(one => one.id === part.part);
        return written === undefined || !(written.instrument in INSTRUMENTS)
          ? []
          : [{ part: part.part, instrument: written.instrument, take: take(part) }];
      }),
  };
};
