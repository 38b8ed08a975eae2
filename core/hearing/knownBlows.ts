import type { Seconds } from '../foundation/units.ts';
import { quantile } from './bands.ts';
import type { Blow } from './blow.ts';

/** Blows of a take by bar, sorted once for all that is asked of them. */
export interface KnownBlows {
  /** Bars of the take, by band: of those beside one another the one that is struck more often. */
  readonly bars: readonly number[];
  /** The last blow on a bar, or beside it, before a moment. */
  readonly lastOn: (bar: number, before: Seconds) => Blow | undefined;
  /** How loud a bar is struck usually; full scale 1. */
  readonly usualOn: (bar: number) => number;
}

/** A blow, and which of the whole take it is. */
interface Placed {
  readonly blow: Blow;
  readonly place: number;
}

/** The last of these that was before a moment. @param placed in order of time */
const lastBefore = (placed: readonly Placed[], moment: Seconds): Placed | undefined => {
  let [from, to] = [0, placed.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if ((placed[middle] as Placed).blow.at < moment) from = middle + 1;
    else to = middle;
  }
  return placed[from - 1];
};

/**
 * What is known of the bars of a take from its blows, in whatever order.
 * @example
 * const blow = (band, at) => ({ band, loudness: 0.1, rose: at, at });
 * knownBlows([blow(40, 2), blow(40, 1), blow(41, 3)]).bars // => [40]
 * knownBlows([blow(40, 2), blow(40, 1)]).lastOn(41, 2).at // => 1
 * knownBlows([blow(40, 2)]).usualOn(40) // => 0.1
 */
export const knownBlows = (blows: readonly Blow[]): KnownBlows => {
  const on = new Map<number, Placed[]>();
  [...blows]
    .sort((a, b) => a.at - b.at)
    .forEach((blow, place) => {
      const mine = on.get(blow.band);
      if (mine === undefined) on.set(blow.band, [{ blow, place }]);
      else mine.push({ blow, place });
    });
  const often = (band: number): number => on.get(band)?.length ?? 0;
  const about = (bar: number): readonly (readonly Placed[])[] =>
    [bar - 1, bar, bar + 1].flatMap(band => {
      const placed = on.get(band);
      return placed === undefined ? [] : [placed];
    });
  const usual = new Map<number, number>();
  return {
    bars: [...on.keys()].filter(
      band => often(band + 1) <= often(band) && often(band - 1) < Math.max(1, often(band)),
    ),
    lastOn: (bar, before) =>
      about(bar)
        .flatMap(placed => lastBefore(placed, before) ?? [])
        .reduce<Placed | undefined>(
          (last, one) => (last === undefined || one.place > last.place ? one : last),
          undefined,
        )?.blow,
    usualOn: bar => {
      const known = usual.get(bar);
      if (known !== undefined) return known;
      const loudness = quantile(
        about(bar).flatMap(placed => placed.map(({ blow }) => blow.loudness)),
        0.5,
      );
      usual.set(bar, loudness);
      return loudness;
    },
  };
};
