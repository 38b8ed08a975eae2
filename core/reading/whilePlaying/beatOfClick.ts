import { toNumber } from '../../foundation/fraction.ts';
import { tactus } from '../../foundation/metre.ts';
import type { Seconds } from '../../foundation/units.ts';
import { clickFor } from '../../take/clickBeats.ts';
import type { Click } from '../../take/take.ts';
import { STRAIGHT } from '../rhythm/swings.ts';
import { TICKS } from '../search/lattice.ts';
import { LATEST_BEATS } from './constants.ts';
import type { WrittenBeat } from './soFar.ts';

/**
 * The beat of a click, counted from the barline that the phrase begins in, as a catch counts it.
 * @param since the first strike of the phrase
 * @param before the beat written on so far
 * @returns undefined where the phrase is not played to it
 * @example beatOfClick({ metre: metre(2, 4), beats: [0, 1, 2, 3] }, 2.1, undefined)?.zero // => 2
 */
export const beatOfClick = (
  click: Click,
  since: Seconds,
  before: WrittenBeat | undefined,
): WrittenBeat | undefined => {
  const [first] = click.beats;
  if (first === undefined || click.beats.length < 2) return undefined;
  const known = before?.click?.first === first ? before : undefined;
  const barline = known?.click?.barline ?? barlineIn(click, since);
  if (barline === undefined) return undefined;
  const from = Math.max(0, click.beats.length - LATEST_BEATS);
  return {
    metre: click.metre,
    click: { first, barline },
    beats: click.beats.slice(from),
    zero: barline - from,
    step: Math.round(toNumber(tactus(click.metre)) * TICKS),
    swing: known?.swing ?? STRAIGHT,
  };
};

const barlineIn = (click: Click, since: Seconds): number | undefined => {
  const barline = clickFor(click, since, since)?.beats[0];
  return barline === undefined ? undefined : click.beats.indexOf(barline);
};
