import { kindsOf, lengthsTried } from './beatLengths.ts';
import type { BeatGuess, SearchOptions } from './beatGuess.ts';
import { searchBeat } from './beatSearch.ts';
import { folded, unfolded } from './foldedIdea.ts';
import type { Lag } from '../repeats/lag.ts';
import { NO_PIN } from '../search/cells.ts';

import { closureCost } from './period.ts';
import { pricesOf, type Vocabulary } from '../rhythm/prior.ts';
import type { Hints } from '../model/reading.ts';
import { vocabulariesOf } from '../rhythm/vocabularies.ts';
import {
  PLAYERS_SOUGHT,
  GUESSES_WIDE,
  GUESSES_KEPT,
  AVERAGED_SPREADS,
  IDEA_BEATS,
  KEPT_OF_AVERAGE,
  AVERAGED_LENGTH_SPREAD,
  AVERAGED_DRIFT,
  FREE_BEAT,
  PLAYER_WAITING,
  WAITING,
} from './constants.ts';
import { spreadCost } from '../onBeat/player.ts';

export interface Guess extends BeatGuess {
  /** Nats by which it disagrees with the repeats. */
  readonly closure: number;
}

/** What a search takes that does not depend on the player or the strikes. */
const searchFor = (hints: Hints, vocabulary: Vocabulary): Omit<SearchOptions, 'spread' | 'drift' | 'pin'> => {
  const { lengths, cost } = lengthsTried(hints);
  return {
    prices: pricesOf(vocabulary),
    divisions: vocabulary,
    swings: hints.swingTolerance === 'none' ? [0.5] : [0.5, 0.62],
    kinds: kindsOf(hints.metre),
    lengthCost: cost,
    lengths,
    lengthSpread: 0.03,
    width: GUESSES_WIDE,
    held: 0,
    opening: 0,
  };
};

/** Vocabularies a beat is sought with. */
const soughtWith = (hints: Hints): readonly Vocabulary[] => {
  const grid = hints.grid ?? 'automatic';
  const all = vocabulariesOf(grid, true);
  return grid === 'automatic' ? all.filter(v => FREE_BEAT.seek.includes(v.name)) : all;
};

const cheapestFirst = (guesses: Guess[]): Guess[] => guesses.sort((x, y) => x.cost - y.cost);

/** Guesses at the beat from all strikes, cheapest first. */
export const guessesOfWhole = (
  at: Float64Array,
  pin: Int32Array,
  lag: Lag | undefined,
  hints: Hints,
): Guess[] =>
  cheapestFirst(
    soughtWith(hints).flatMap(v =>
      PLAYERS_SOUGHT.flatMap(([spread, drift]) =>
        searchBeat(at, { ...searchFor(hints, v), spread, drift, pin }, GUESSES_KEPT).map(g => {
          const closure = closureCost(g.ticks, g.beat, g.parts, lag);
          return { ...g, closure, cost: g.cost + v.cost + spreadCost(spread, at.length) + closure };
        }),
      ),
    ),
  );

/** Guesses from the average of all playings of an idea that comes again, cheapest first. */
export const guessesOfAverage = (at: Float64Array, lag: Lag, hints: Hints): Guess[] => {
  const fold = folded(at, lag);
  if (fold === undefined) return [];
  const pin = new Int32Array(fold.at.length).fill(NO_PIN);
  // An idea lasts whole beats, so the time from playing to playing leaves few beat lengths.
  const { lengths } = lengthsTried(hints);
  const shortest = Math.min(...lengths);
  const longest = Math.max(...lengths);
  const beats = IDEA_BEATS.map(k => lag.seconds / k).filter(l => l >= shortest && l <= longest);
  const guesses: Guess[] = [];
  for (const v of soughtWith(hints)) {
    for (const alone of AVERAGED_SPREADS) {
      const spread = alone / Math.sqrt(fold.count);
      const player = v.cost + spreadCost(alone, fold.at.length);
      for (const length of beats) {
        const options = {
          ...searchFor(hints, v),
          lengths: [length],
          lengthSpread: AVERAGED_LENGTH_SPREAD,
          spread,
          drift: AVERAGED_DRIFT,
          pin,
        };
        for (const g of searchBeat(fold.at, options, KEPT_OF_AVERAGE)) {
          const whole = unfolded(g, fold.heads, lag, at.length);
          if (whole === undefined) continue;
          const closure = closureCost(whole.ticks, g.beat, g.parts, lag);
          guesses.push({ ...whole, closure, cost: whole.cost + player + closure });
        }
      }
    }
  }
  return cheapestFirst(guesses);
};

/**
 * Guesses at the beat of a player who waited once, cheapest first: only such as cost hardly more than those
 * of one who never waited.
 * @param steady guesses from all strikes, cheapest first
 */
export const guessesWaiting = (
  at: Float64Array,
  pin: Int32Array,
  lag: Lag | undefined,
  hints: Hints,
  steady: readonly Guess[],
): Guess[] => {
  const [v] = soughtWith(hints);
  const [best] = steady;
  if (v === undefined || best === undefined) return [];
  const [spread, drift] = PLAYER_WAITING;
  const options = {
    ...searchFor(hints, v),
    swings: [0.5],

    spread,
    drift,
    pin,
    held: 1,
    opening: WAITING.opening,
    width: WAITING.wide,
  };
  return cheapestFirst(
    searchBeat(at, options, GUESSES_KEPT).map(g => {
      const closure = closureCost(g.ticks, g.beat, g.parts, lag);
      return { ...g, closure, cost: g.cost + v.cost + spreadCost(spread, at.length) + closure };
    }),
  ).filter(g => g.cost < best.cost + WAITING.behind);
};
