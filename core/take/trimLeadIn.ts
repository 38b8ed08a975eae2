import { clickFor } from './clickBeats.ts';
import type { Take } from './take.ts';

/**
 * A take without the empty bars before its first strike (a count-in, or silence at the start of a
 * file): time 0 becomes the barline of the click it begins in. Without a click nothing changes.
 * @example
 * const take = { id: '', capturedAt: '', source: 'file', from: '', latency: 0, lengthsMean: false, click: { metre: metre(2, 4), beats: [0, 1, 2, 3, 4] }, strikes: [{ at: 2.1, pitch: 60, velocity: 90 }] };
 * trimLeadIn(take).strikes[0].at.toFixed(1) // => '0.1'
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
