import { toNumber } from '../foundation/fraction.ts';
import type { Seconds, Semibreves } from '../foundation/units.ts';
import { clickOfScore, type HeardClick } from '../playback/compare.ts';
import { countedIn } from '../playback/countIn.ts';
import type { Rendition, SoundingEvent } from '../playback/events.ts';
import { perform } from '../playback/perform.ts';
import type { Score } from '../score/score.ts';
import { type RehearsedBars, sectionInTime } from './section.ts';

/** How one's own part is heard while it is rehearsed. */
export type OwnPart = 'left out' | 'as written' | 'louder' | 'alone';

/** What sounds while a part is rehearsed. */
export interface RehearsalSound {
  /** Parts that are rehearsed, by id. */
  readonly parts: readonly string[];
  readonly own: OwnPart;
  readonly bars: RehearsedBars;
  /** Over and over, until it is stopped. */
  readonly loop: boolean;
  /** Whether the click goes on after the count. */
  readonly click: boolean;
}

/** The sound of a rehearsal at the written speed, its count first; a player takes it faster or slower. */
export interface Accompanied {
  readonly performance: Rendition;
  readonly click: HeardClick;
  /** Seconds of counting, at the written speed. */
  readonly lead: Seconds;
  /** How long the bars last, at the written speed. */
  readonly length: Seconds;
  /** What comes round, where it does: the bars, never their count. */
  readonly loop: { readonly from: Seconds; readonly to: Seconds } | undefined;
  /** Where on the page the music begins, and where the counting does. */
  readonly startsAt: Semibreves;
  readonly countsFrom: Semibreves;
  /** Where the bars begin in the whole score, in seconds at the written speed. */
  readonly from: Seconds;
}

/** Louder is half as loud again in steps of the parts panel: 6 dB. */
const LOUDER = 6;
/** Heard after the last bar, so that a late last stroke still counts. */
const TAIL: Seconds = 0.6;

const heard = (event: SoundingEvent, { parts, own }: RehearsalSound): readonly SoundingEvent[] => {
  const isMine = event.part !== undefined && parts.includes(event.part);
  if (own === 'alone') return isMine ? [event] : [];
  if (!isMine || own === 'as written') return [event];
  return own === 'left out' ? [] : [{ ...event, balance: (event.balance ?? 0) + LOUDER }];
};

/**
 * What sounds while parts are rehearsed: a bar counted, then the bars asked for.
 * @param score without repeat bars, or played out
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const score = scoreOfPlan(idea, firstPlan('xylophone', 60), 'Idea', 'Heron');
 * const what = { parts: ['p1'], own: 'alone', bars: { first: 0, last: 0 }, loop: true, click: false };
 * accompanied(score, what).loop // => { from: 4, to: 8 }
 * accompanied(score, what).performance.events.length // => 1
 * accompanied(score, { ...what, own: 'left out' }).performance.events.length // => 0
 */
export const accompanied = (score: Score, what: RehearsalSound): Accompanied => {
  const { start, from, to } = sectionInTime(score, what.bars);
  const startsAt = toNumber(start);
  const { performance, click, lead, countsFrom } = countedIn(score, perform(score), startsAt);
  const length = to - from;
  const events = performance.events
    .filter(event => event.seconds < lead + length - 1e-6)
    .flatMap(event => heard(event, what));
  const going = clickOfScore(score);
  const beats = what.click
    ? going.beats
        .map((at, i) => ({ at: at - from + lead, accent: going.accents[i] ?? false }))
        .filter(({ at }) => at >= lead - 1e-6 && at < lead + length - 1e-6)
    : [];
  return {
    performance: { events, duration: lead + length + (what.loop ? 0 : TAIL) },
    click: {
      beats: [...click.beats, ...beats.map(beat => beat.at)],
      accents: [...click.accents, ...beats.map(beat => beat.accent)],
    },
    lead,
    length,
    loop: what.loop ? { from: lead, to: lead + length } : undefined,
    startsAt,
    countsFrom,
    from,
  };
};
