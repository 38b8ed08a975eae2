import { clickFor } from './clickBeats.ts';
import type { Take } from './take.ts';

/**
 * A take without the empty bars before its first strike (a count-in, or silence at the start of a
 * file): time 0 becomes the barline of the click it begins in. Without a click nothing changes.
 */
export const trimLeadIn = (take: Take): Take => {
  const first = take.strikes[0]?.at;
  const last = take.strikes.at(-1)?.at;
  if (take.click === undefined || first === undefined || last === undefined) return take;
  const click = clickFor(take.click, first, last);
  const zero = click?.beats[0];
  if (click === undefined || zero === undefined) return take;
  return {
    ...take,
    click: { ...click, beats: click.beats.map(beat => beat - zero) },
    strikes: take.strikes.map(strike => ({
      ...strike,
      at: strike.at - zero,
      ...(strike.until === undefined ? {} : { until: strike.until - zero }),
    })),
  };
};
