import { add, atMost, type Fraction, subtract, ZERO } from '../foundation/fraction.ts';
import { type MetresInForce, barIndexAt, barStart, metreOfBar } from '../foundation/barring.ts';
import { beatLengths, beatStarts, type Metre } from '../foundation/metre.ts';
import type { BarNumber } from '../foundation/units.ts';

/**
 * The place of a beat: bars and beats counted from 1, as musicians do.
 * @example
 * positionOf(metre(4, 4), 2, 3) // => fraction(3, 2)
 */
export const positionOf = (m: Metre | MetresInForce, bar: BarNumber, beat: number): Fraction =>
  add(barStart(m, bar - 1), beatStarts(metreOfBar(m, bar - 1).metre)[beat - 1] ?? ZERO);

/**
 * A place told as bar and beat, from 1; the beat that holds it.
 * @example
 * barAndBeat(metre(6, 8), fraction(9, 8)) // => { bar: 2, beat: 2 }
 * barAndBeat(barringOf(metre(4, 4), [{ bar: 1, metre: metre(6, 8) }]), fraction(11, 8)) // => { bar: 2, beat: 2 }
 */
export const barAndBeat = (m: Metre | MetresInForce, at: Fraction): { bar: BarNumber; beat: number } => {
  const index = barIndexAt(m, at);
  const inside = subtract(at, barStart(m, index));
  const beat = beatStarts(metreOfBar(m, index).metre).filter(start => atMost(start, inside)).length;
  return { bar: index + 1, beat };
};

/**
 * A number of beats after a place, through bars of unequal beats and of other metres too. Whole beats, zero or more.
 * @example
 * beatsLater(metre(5, 8), ZERO, 1) // => fraction(3, 8)
 */
export const beatsLater = (m: Metre | MetresInForce, at: Fraction, beats: number): Fraction => {
  let { bar, beat } = barAndBeat(m, at);
  let place = at;
  for (let i = 0; i < beats; i++) {
    const lengths = beatLengths(metreOfBar(m, bar - 1).metre);
    place = add(place, lengths[beat - 1] ?? ZERO);
    [bar, beat] = beat < lengths.length ? [bar, beat + 1] : [bar + 1, 1];
  }
  return place;
};

/**
 * A number of beats before or after a place; before the first barline where it is moved too far back.
 * @example
 * beatsAway(metre(5, 8), ZERO, -1) // => fraction(-1, 4)
 */
export const beatsAway = (m: Metre | MetresInForce, at: Fraction, beats: number): Fraction => {
  if (beats >= 0) return beatsLater(m, at, beats);
  let { bar, beat } = barAndBeat(m, at);
  let place = at;
  for (let i = 0; i > beats; i--) {
    if (beat === 1) bar -= 1;
    const lengths = beatLengths(metreOfBar(m, bar - 1).metre);
    beat = beat === 1 ? lengths.length : beat - 1;
    place = subtract(place, lengths[beat - 1] ?? ZERO);
  }
  return place;
};
