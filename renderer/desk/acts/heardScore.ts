import { toNumber } from '../../../core/foundation/fraction.ts';
import { barringOf, barStart } from '../../../core/foundation/barring.ts';
import type { Seconds } from '../../../core/foundation/units.ts';
import type { MalletId } from '../../../core/instruments/mallets.ts';
import { clickOfScore } from '../../../core/playback/compare.ts';
import { countedIn } from '../../../core/playback/countIn.ts';
import type { Rendition } from '../../../core/playback/events.ts';
import { perform } from '../../../core/playback/perform.ts';
import { secondsAtOnset } from '../../../core/playback/seconds.ts';
import { placesByTime } from '../../../core/playback/placeAt.ts';
import type { Score } from '../../../core/score/score.ts';
import type { PlayOptions } from '../../sound/player.ts';

/** How something is heard. */
export interface HearOptions {
  /** Speed, 0.25 to 4; the pitch stays. */
  readonly rate?: number;
  /** Begin at this place, in semibreves from the first barline. */
  readonly from?: number;
  /** Only this bar, over and over; counted as printed, 0 for an upbeat. */
  readonly bar?: number;
  readonly click?: boolean;
  /** What a take was struck with; the usual mallet where absent. */
  readonly mallet?: MalletId | undefined;
  /** A bar is counted before it. */
  readonly countIn?: boolean;
  /** Which of several it is, for the button that began it. */
  readonly of?: string;
  readonly then?: () => void;
}

/** Where a bar begins and ends on the page, in semibreves from the first barline. */
export const stretchOf = (
  score: Pick<Score, 'metre' | 'metres' | 'upbeat'>,
  bar: number,
): { from: number; to: number } => {
  if (bar < 1) return { from: -toNumber(score.upbeat), to: 0 };
  // A score counts its bars with the upbeat's.
  const before = score.upbeat.n > 0 ? 1 : 0;
  const changes = (score.metres ?? []).map(change => ({ ...change, bar: change.bar - before }));
  const barring = barringOf(score.metre, changes);
  return { from: toNumber(barStart(barring, bar - 1)), to: toNumber(barStart(barring, bar)) };
};

/** A page as it is handed to the player. */
export interface HeardScore {
  readonly performance: Rendition;
  readonly playing: PlayOptions;
  /** Where the music begins after its count-in, in semibreves from the first barline; absent where none is counted. */
  readonly startsAt?: number;
}

/**
 * How a page is heard.
 * @param onPlace told before every picture where it is, in semibreves from the first barline
 * @param sent where it is played, too: from these seconds of the score on, after so many that are counted
 */
export const heardScore = (
  score: Score,
  options: HearOptions,
  onPlace: (place: number) => void,
  sent: (from: Seconds, lead: Seconds) => Pick<PlayOptions, 'elsewhere' | 'pulses'>,
): HeardScore => {
  const placeAt = placesByTime(score);
  const upbeat = toNumber(score.upbeat);
  const seconds = (place: number): Seconds =>
    secondsAtOnset(score, { n: Math.round((place + upbeat) * 192), d: 192 });
  if (options.countIn === true) {
    const startsAt = options.from ?? 0 - upbeat;
    const { performance, click, lead, countsFrom } = countedIn(score, perform(score), startsAt);
    const from = seconds(startsAt);
    return {
      performance,
      startsAt,
      playing: {
        click,
        ...sent(from, lead),
        onPosition: at => {
          const counted = countsFrom + (at / lead) * (startsAt - countsFrom);
          onPlace(at < lead ? counted : placeAt(at - lead + from));
        },
      },
    };
  }
  const stretch = options.bar === undefined ? undefined : stretchOf(score, options.bar);
  return {
    performance: perform(score),
    playing: {
      rate: options.rate ?? 1,
      ...sent(0, 0),
      ...(options.from === undefined ? {} : { from: seconds(options.from) }),
      ...(stretch === undefined ? {} : { loop: { from: seconds(stretch.from), to: seconds(stretch.to) } }),
      ...(options.click === true ? { click: clickOfScore(score) } : {}),
      onPosition: at => {
        onPlace(placeAt(at));
      },
    },
  };
};
