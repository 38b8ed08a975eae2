import { add, atMost, divide, type Fraction, subtract, ZERO } from '../foundation/fraction.ts';
import { barLength, beatLengths, beatStarts, type Metre } from '../foundation/metre.ts';
import type { BarNumber } from '../foundation/units.ts';

/**
 * The place of a beat: bars and beats counted from 1, as musicians do.
 * @example
 * positionOf(metre(4, 4), 2, 3) // => fraction(3, 2)
 */
export const positionOf = (m: Metre, bar: BarNumber, beat: number): Fraction => {
  const length = barLength(m);
  const within = beatStarts(m)[beat - 1] ?? ZERO;
  return add({ n: length.n * (bar - 1), d: length.d }, within);
};

/**
 * A place told as bar and beat, from 1; the beat that holds it.
 * @example
 * barAndBeat(metre(6, 8), fraction(9, 8)) // => { bar: 2, beat: 2 }
 */
export const barAndBeat = (m: Metre, at: Fraction): { bar: BarNumber; beat: number } => {
  const length = barLength(m);
  const bars = divide(at, length);
  const bar = Math.floor(bars.n / bars.d);
  const inside = subtract(at, { n: length.n * bar, d: length.d });
  const beat = beatStarts(m).filter(start => atMost(start, inside)).length;
  return { bar: bar + 1, beat };
};

/**
 * A number of beats after a place, through bars of unequal beats too. Whole beats, zero or more.
 * @example
 * beatsLater(metre(5, 8), ZERO, 1) // => fraction(3, 8)
 */
export const beatsLater = (m: Metre, at: Fraction, beats: number): Fraction => {
  const lengths = beatLengths(m);
  const { beat } = barAndBeat(m, at);
  let place = at;
  for (let i = 0; i < beats; i++) place = add(place, lengths[(beat - 1 + i) % lengths.length] ?? ZERO);
  return place;
};

/**
 * A number of beats before or after a place; before the first barline where it is moved too far back.
 * @example
 * beatsAway(metre(5, 8), ZERO, -1) // => fraction(-1, 4)
 */
export const beatsAway = (m: Metre, at: Fraction, beats: number): Fraction => {
  if (beats >= 0) return beatsLater(m, at, beats);
  const lengths = beatLengths(m);
  let { beat } = barAndBeat(m, at);
  let place = at;
  for (let i = 0; i > beats; i--) {
    beat = beat === 1 ? lengths.length : beat - 1;
    place = subtract(place, lengths[beat - 1] ?? ZERO);
  }
  return place;
};
