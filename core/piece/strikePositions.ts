import { toNumber } from '../foundation/fraction.ts';
import { tactus } from '../foundation/metre.ts';
import type { Seconds, Semibreves } from '../foundation/units.ts';
import type { Reading } from '../reading/model/reading.ts';
import type { Take } from '../take/take.ts';

type Beats = Pick<Reading, 'beats' | 'firstBeat' | 'metre'>;

/** The pair of beats by which a value is told: the last that is not after it, never the very last of all. */
const pairAt = (count: number, notAfter: (index: number) => boolean): number => {
  let low = 0;
  let high = Math.max(0, count - 2);
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (notAfter(middle)) low = middle;
    else high = middle - 1;
  }
  return low;
};

/**
 * The place, in semibreves from the first barline, of a moment of the take: straight lines between
 * the reading's beats, and the nearest beat's pace before the first and after the last.
 * @param at on the take's clock, latency taken off
 * @example
 * positionAtSeconds({ metre: metre(4, 4), beats: [1, 1.5, 2], firstBeat: 0 }, 1.75) // => 0.375
 */
export const positionAtSeconds = (reading: Beats, at: Seconds): Semibreves => {
  const { beats, firstBeat } = reading;
  const step = toNumber(tactus(reading.metre));
  const k = pairAt(beats.length, i => (beats[i] ?? Infinity) <= at);
  const from = beats[k] ?? 0;
  const to = beats[k + 1] ?? from + 0.5;
  const share = to > from ? (at - from) / (to - from) : 0;
  return (k - firstBeat + share) * step;
};

/**
 * The moment of the take at which a place lies, by the reading's beats; the other way round.
 * @example
 * secondsAtPosition({ metre: metre(4, 4), beats: [1, 1.5, 2], firstBeat: 0 }, 0.375) // => 1.75
 */
export const secondsAtPosition = (reading: Beats, place: Semibreves): Seconds => {
  const { beats, firstBeat } = reading;
  const index = place / toNumber(tactus(reading.metre)) + firstBeat;
  const k = Math.max(0, Math.min(beats.length - 2, Math.floor(index)));
  const from = beats[k] ?? 0;
  return from + (index - k) * ((beats[k + 1] ?? from + 0.5) - from);
};

/** Where each strike really fell, in semibreves from the first barline. One number per strike of the take. */
export const strikePositions = (take: Take, reading: Beats): readonly Semibreves[] =>
  take.strikes.map(strike => positionAtSeconds(reading, strike.at - take.latency / 1000));
