import type { BarIndex } from '../foundation/units.ts';
import type { RepeatedBars, Score } from './score.ts';

/** First- or last-time bars, and at which times they are played. */
export interface Ending {
  /** Index of the first and of the last bar. */
  readonly first: BarIndex;
  readonly last: BarIndex;
  /** The first and the last time at which they are played, from 1. */
  readonly from: number;
  readonly to: number;
}

/**
 * The endings of a repeat: its last bars for every time but the last, and what follows for the last.
 * @example
 * endingsOf({ bar: 0, bars: 2, times: 2, endings: { first: 1, last: 1 } }).map(e => e.first) // => [1, 2]
 */
export const endingsOf = (repeat: RepeatedBars): readonly Ending[] => {
  if (repeat.endings === undefined) return [];
  const { first, last } = repeat.endings;
  const closes = repeat.bar + repeat.bars - 1;
  return [
    { first: closes - first + 1, last: closes, from: 1, to: repeat.times - 1 },
    { first: closes + 1, last: closes + last, from: repeat.times, to: repeat.times },
  ];
};

/** Every ending of a score, in order of bars. */
export const endingsIn = (score: Score): readonly Ending[] => (score.repeats ?? []).flatMap(endingsOf);

/**
 * What stands at the beginning of an ending.
 * @example
 * endingText({ first: 1, last: 1, from: 1, to: 2 }) // => '1., 2.'
 * endingText({ first: 1, last: 1, from: 1, to: 3 }) // => '1.–3.'
 */
export const endingText = ({ from, to }: Ending): string =>
  from === to ? `${String(from)}.` : `${String(from)}.${to === from + 1 ? ', ' : '–'}${String(to)}.`;
