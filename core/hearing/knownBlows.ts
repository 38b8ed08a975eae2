import type { Seconds } from '../foundation/units.ts';
import { quantile } from './bands.ts';
import type { Blow } from './blow.ts';
import { countBefore } from './inTime.ts';

/** Blows of a take by bar, sorted once for all that is asked of them. */
export interface KnownBlows {
  /** Bars of the take, by band: of those beside one another the one that is struck more often. */
  readonly bars: readonly number[];
  /** The last blow on a bar, or beside it, before a moment. @param without blows that are left out */
  readonly lastOn: (bar: number, before: Seconds, without?: ReadonlySet<Blow>) => Blow | undefined;
  /** How loud a bar is struck usually; full scale 1. */
  readonly usualOn: (bar: number) => number;
  /** How often a bar, or one beside it, is struck. */
  readonly timesOn: (bar: number) => number;
  /** The first blows on a bar, or beside it, after the very beginning, in order of time. @param most at most so many */
  readonly firstOn: (bar: number, most: number) => readonly Blow[];
}

/** A blow, and which of the whole take it is. */
interface Placed {
  readonly blow: Blow;
  readonly place: number;
}

/** The last of these that was before a moment. @param placed in order of time */
const lastOf = (
  placed: readonly Placed[],
  moment: Seconds,
  without: ReadonlySet<Blow> | undefined,
): Placed | undefined => {
  let last = countBefore(placed, ({ blow }) => blow.at, moment) - 1;
  while (last >= 0 && without?.has((placed[last] as Placed).blow) === true) last -= 1;
  return placed[last];
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
    lastOn: (bar, before, without) =>
      about(bar)
        .flatMap(placed => lastOf(placed, before, without) ?? [])
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
    timesOn: bar => about(bar).reduce((sum, placed) => sum + placed.length, 0),
    firstOn: (bar, most) =>
      about(bar)
        // One at the very beginning may have begun before it.
        .flatMap(placed => placed.slice(0, most + 1).filter(({ blow }) => blow.at > 0))
        .sort((a, b) => a.place - b.place)
        .slice(0, most)
        .map(({ blow }) => blow),
  };
};
