import { decibels, type PitchBands, quantile } from './bands.ts';
import type { Blow } from './blow.ts';
import { DOUBT, MISHEARD, MODE, PER_SEMITONE, TOGETHER } from './constants.ts';
import { betweenMoments } from './inTime.ts';
import { freshnessOf, momentOf } from './freshness.ts';
import { type KnownBlows, knownBlows } from './knownBlows.ts';

/** What is new in a bar when a blow falls, beside its usual blow, in dB. */
interface Fresh {
  readonly bar: number;
  readonly under: number;
  readonly contrast: number;
  readonly swells: boolean;
}
const NOTHING_NEW = { under: Infinity, contrast: -Infinity, swells: false };

/** The blows of a take, and what is known of its bars. */
interface Heard {
  readonly bands: PitchBands;
  /** In order of time. */
  readonly blows: readonly Blow[];
  readonly known: KnownBlows;
  /** The band in the middle of its blows. */
  readonly middle: number;
}
const heardOf = (bands: PitchBands, given: readonly Blow[]): Heard => {
  const blows = [...given].sort((a, b) => a.at - b.at);
  const middle = quantile(
    blows.map(blow => blow.band),
    0.5,
  );
  return { bands, blows, known: knownBlows(blows), middle };
};

const freshIn = ({ bands, known }: Heard, blow: Blow, bar: number): Fresh => {
  const fresh = freshnessOf(bands, known, bar, momentOf(bands, blow));
  if (fresh === undefined) return { bar, ...NOTHING_NEW };
  const under = decibels(known.usualOn(bar)) - decibels(fresh.loudness);
  return { bar, under, contrast: fresh.contrast, swells: fresh.swells };
};

const isStruck = ({ blows }: Heard, one: Blow, bar: number): boolean =>
  betweenMoments(blows, ({ at }) => at, one.at - 2 * TOGETHER.within, one.at + 2 * TOGETHER.within).some(
    other =>
      other !== one && Math.abs(other.band - bar) <= 2 && Math.abs(other.at - one.at) < 2 * TOGETHER.within,
  );

/** Other bars of the take that were not struck then, with what is new in them. */
const othersAt = (heard: Heard, blow: Blow): readonly Fresh[] =>
  heard.known.bars
    .filter(bar => Math.abs(bar - blow.band) > 2 && !isStruck(heard, blow, bar))
    .map(bar => freshIn(heard, blow, bar));

/** Whether one is as far above the other as a mode is. */
const isAsMode = (mode: number, bar: number): boolean =>
  (mode - bar) / PER_SEMITONE >= MODE.from && (mode - bar) / PER_SEMITONE <= MODE.to;

const isNew = ({ under, contrast }: Fresh): boolean =>
  under <= MISHEARD.under && contrast >= MISHEARD.contrast;

/** Whether something begins to sound there whenever a bar is struck. */
const isModeOf = (heard: Heard, mode: number, bar: number): boolean => {
  const on = heard.known.firstOn(bar, MISHEARD.looked);
  const along = on.filter(blow => isNew(freshIn(heard, blow, mode)));
  return on.length > 0 && along.length >= MISHEARD.share * on.length;
};

/**
 * The bar that a blow was taken from, if any: one that is struck more often, or nearer to the middle of the take. Either
 * only a mode of that bar stood out of the noise, which is heard as often as that bar is struck; or a voice that swelled
 * far below took it for a mode of its own.
 */
const barTakenFrom = (heard: Heard, blow: Blow, voices: boolean): number | undefined => {
  let best: Fresh | undefined;
  for (const other of othersAt(heard, blow)) {
    const isNearer = Math.abs(other.bar - heard.middle) < Math.abs(blow.band - heard.middle);
    const more = heard.known.timesOn(other.bar) - heard.known.timesOn(blow.band);
    const isIt = voices
      ? (isNearer || more > 0) &&
        isAsMode(other.bar, blow.band) &&
        blow.contact !== undefined &&
        isNew(other) &&
        freshIn(heard, blow, blow.band).contrast < MISHEARD.faint
      : isNearer &&
        more >= 0 &&
        isAsMode(blow.band, other.bar) &&
        other.under <= MISHEARD.faint &&
        isModeOf(heard, blow.band, other.bar);
    if (isIt && other.under < (best?.under ?? Infinity)) best = other;
  }
  return best?.bar;
};

const putRight = (
  bands: PitchBands,
  blows: readonly Blow[],
  earlier: readonly Blow[],
  voices: boolean,
): readonly Blow[] => {
  const heard = heardOf(bands, [...earlier, ...blows]);
  return blows.map(blow => {
    const bar = barTakenFrom(heard, blow, voices);
    return bar === undefined ? blow : { ...blow, band: bar, loudness: heard.known.usualOn(bar) };
  });
};

/** The bar a blow may have been on instead: one in which hardly less is new, beside its usual blow. */
const doubtOf = (heard: Heard, blow: Blow): Blow => {
  const mine = freshIn(heard, blow, blow.band);
  let best: Fresh | undefined;
  for (const other of othersAt(heard, blow)) {
    if (other.under > Math.min(DOUBT.under, mine.under + DOUBT.less)) continue;
    if (
      !other.swells ||
      (other.contrast < DOUBT.contrast && other.under > mine.under - DOUBT.more) ||
      other.under >= (best?.under ?? Infinity)
    )
      continue;
    if (!isAsMode(other.bar, blow.band) || !isModeOf(heard, other.bar, blow.band)) best = other;
  }
  return best === undefined ? blow : { ...blow, otherwise: best.bar };
};

/**
 * Blows on the bars they were on: voices first, whose bars are none of the take's; then modes that stood out alone. What
 * may have been another bar of the take is said: a mode, an octave, or a bar that only rang along.
 * @param earlier of the take, before them, where the bands are only the end of what was heard
 */
export const onRightBars = (
  bands: PitchBands,
  blows: readonly Blow[],
  earlier: readonly Blow[] = [],
): readonly Blow[] => {
  const right = putRight(bands, putRight(bands, blows, earlier, true), earlier, false);
  const heard = heardOf(bands, [...earlier, ...right]);
  return right.map(blow => doubtOf(heard, blow));
};
