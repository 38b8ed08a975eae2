import { divide, toNumber } from '../foundation/fraction.ts';
import { barLength, type Metre, tactus } from '../foundation/metre.ts';
import type { Seconds } from '../foundation/units.ts';
import type { Click } from './take.ts';

/**
 * Tactus beats in one bar.
 * @example
 * beatsInBar(metre(6, 8)) // => 2
 */
export const beatsInBar = (metre: Metre): number =>
  Math.max(1, Math.round(toNumber(divide(barLength(metre), tactus(metre)))));

/** A strike this share of a beat before a barline was meant for it: players come early. */
const EARLY = 0.25;

/**
 * The part of a click that a phrase was played to: from the barline its first strike belongs to, to
 * the first beat after its last. A click may run for many bars before anything is played.
 * @returns undefined when the phrase was not played to it (it began over a bar before the first beat,
 * or most of it lies over a bar after the last), or when fewer than two beats are left
 * @example
 * clickFor({ metre: metre(2, 4), beats: [0, 1, 2, 3, 4, 5] }, 2, 3.5) // => { metre: metre(2, 4), beats: [2, 3, 4] }
 * clickFor({ metre: metre(2, 4), beats: [0, 1, 2] }, 9, 10) // => undefined
 */
export const clickFor = (click: Click, first: Seconds, last: Seconds): Click | undefined => {
  const { beats, metre } = click;
  const perBar = beatsInBar(metre);
  const period = beats.length > 1 ? ((beats.at(-1) ?? 0) - (beats[0] ?? 0)) / (beats.length - 1) : 0;
  const bar = perBar * period;
  const [opens, closes] = [(beats[0] ?? 0) - bar, (beats.at(-1) ?? 0) + bar];
  if (first < opens || (first + last) / 2 > closes) return undefined;
  let begin = 0;
  while (begin + perBar < beats.length && (beats[begin + perBar] ?? Infinity) <= first + EARLY * period) {
    begin += perBar;
  }
  const after = beats.findIndex(beat => beat > last);
  const end = Math.max(after < 0 ? beats.length : after + 1, begin + 2);
  // A phrase on the very last beat heard: one more bar of the past shows the tempo.
  if (beats.length - begin < 2) begin = Math.max(0, begin - perBar);
  const kept = beats.slice(begin, end);
  return kept.length < 2 ? undefined : { metre, beats: kept };
};
