import type { Seconds } from '../foundation/units.ts';
import type { Blow } from './blow.ts';
import { knownBlows, type KnownBlows } from './knownBlows.ts';

/** Known blows to which some come, and from which some go, while time goes on. */
export interface GrowingBlows extends Pick<KnownBlows, 'bars' | 'lastOn' | 'usualOn'> {
  /** @param blow no earlier than those that were added before it */
  add(blow: Blow): void;
  /** @param blow one of the beginning */
  remove(blow: Blow): void;
}

/**
 * Blows that come and go. Which bars there are, and how loud they are struck usually, is told by those of the beginning.
 * @example
 * const blow = (band, at) => ({ band, loudness: 0.1, rose: at, at });
 * const known = growingBlows([blow(40, 1)]);
 * known.add(blow(40, 2));
 * known.lastOn(40, 3).at // => 2
 */
export const growingBlows = (blows: readonly Blow[]): GrowingBlows => {
  const base = knownBlows(blows);
  const gone = new Set<Blow>();
  /** Blows that came, by band, in order of time. */
  const came = new Map<number, Blow[]>();
  const lastCome = (band: number, before: Seconds): Blow | undefined => {
    const mine = came.get(band) ?? [];
    let last = mine.length - 1;
    // Only those of the last moment can be too late.
    while (last >= 0 && (mine[last] as Blow).at >= before) last -= 1;
    return mine[last];
  };
  return {
    bars: base.bars,
    usualOn: base.usualOn,
    lastOn: (bar, before) =>
      [bar - 1, bar, bar + 1].reduce<Blow | undefined>(
        (last, band) => {
          const one = lastCome(band, before);
          return one !== undefined && one.at >= (last?.at ?? -Infinity) ? one : last;
        },
        base.lastOn(bar, before, gone),
      ),
    add: blow => {
      const mine = came.get(blow.band);
      if (mine === undefined) came.set(blow.band, [blow]);
      else mine.push(blow);
    },
    remove: blow => {
      gone.add(blow);
    },
  };
};
