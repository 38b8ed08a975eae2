import {
  divide,
  equal,
  type Fraction,
  multiply,
  remainder,
  subtract,
  toNumber,
  ZERO,
} from '../foundation/fraction.ts';
import { type MetresInForce, metreAtPlace } from '../foundation/barring.ts';
import { barLength, beatLengths, beatStarts, isCompound, type Metre } from '../foundation/metre.ts';
import { barAndBeat } from './beats.ts';
import { counted } from './intervals.ts';

const UNITS: Readonly<Record<number, string>> = {
  2: 'minim',
  4: 'crotchet',
  8: 'quaver',
  16: 'semiquaver',
};
const PARTS: Readonly<Record<string, string>> = {
  '1/2': 'half a beat',
  '1/3': 'a third of a beat',
  '2/3': 'two thirds of a beat',
  '1/4': 'a quarter of a beat',
  '3/4': 'three quarters of a beat',
};

/** Whether its beats divide in threes or are unequal, so that between beats its players count the lower figure. */
const countsUnits = (m: Metre): boolean => {
  const [first = ZERO, ...others] = beatLengths(m);
  return isCompound(m) || others.some(length => !equal(length, first));
};

/**
 * How much later one place is than another, as players count it: whole bars, beats, or quavers where a beat
 * has three of them or beats are unequal.
 * @param start a place in semibreves from the first barline
 * @param end a later one
 * @example
 * delayWords(metre(4, 4), ZERO, fraction(3, 8)) // => 'one and a half beats'
 * delayWords(metre(6, 8), ZERO, fraction(1, 2)) // => 'four quavers'
 */
export const delayWords = (barring: Metre | MetresInForce, start: Fraction, end: Fraction): string => {
  // In the metre in which what comes first begins, as if it went on.
  const { metre: m, from: origin } = metreAtPlace(barring, start);
  const [from, to] = [subtract(start, origin), subtract(end, origin)];
  const far = subtract(to, from);
  const bars = divide(far, barLength(m));
  if (bars.d === 1) return counted(bars.n, 'bar');
  const beats = beatsBetween(m, from, to);
  if (beats.d === 1) return counted(beats.n, 'beat');
  const units = multiply(far, { n: m.lower, d: 1 });
  if (countsUnits(m) && units.d === 1) return counted(units.n, UNITS[m.lower] ?? `1/${String(m.lower)} note`);
  const whole = Math.floor(toNumber(beats));
  const part = subtract(beats, { n: whole, d: 1 });
  if (whole > 0 && part.n === 1 && part.d === 2)
    return `${counted(whole, 'beat').split(' ')[0] ?? ''} and a half beats`;
  const rest =
    PARTS[`${String(part.n)}/${String(part.d)}`] ?? `${String(part.n)}/${String(part.d)} of a beat`;
  return whole === 0 ? rest : `${counted(whole, 'beat')} and ${rest}`;
};

/** Beats from one place to another, through beats of unequal length too. */
const beatsBetween = (m: Metre, from: Fraction, to: Fraction): Fraction => {
  const lengths = beatLengths(m);
  const inside = (at: Fraction, beat: number): Fraction =>
    divide(
      subtract(remainder(at, barLength(m)), beatStarts(m)[beat - 1] ?? ZERO),
      lengths[beat - 1] ?? { n: 1, d: 4 },
    );
  const a = barAndBeat(m, from);
  const b = barAndBeat(m, to);
  const whole = (b.bar - a.bar) * lengths.length + b.beat - a.beat;
  const part = subtract(inside(to, b.beat), inside(from, a.beat));
  return { n: whole * part.d + part.n, d: part.d };
};
