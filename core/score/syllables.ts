import { divide, equal, type Fraction, fraction, multiply, subtract } from '../foundation/fraction.ts';
import type { Metre } from '../foundation/metre.ts';
import { beatAt, isTernary } from './levels.ts';
import { placeInBar } from './metreAt.ts';
import type { ScoreBar, ScoreSymbol } from './score.ts';

const TRIPLET = ['tri', 'o', 'la'] as const;

/**
 * The rhythm name spoken for a symbol: ta (crotchet), ti (quaver), ti-ka (semiquavers), ta-a
 * (minim); as listed by D. Wicks, "Rhythm Syllables" (edu-cyberpg.com), after Kodály's pupils.
 * Dotted values (ta-i, tim), triplets (tri-o-la), dotted beats (tam) and a held tie (-a) are common
 * practice, no source. Rests have none.
 * @example
 * const half = { onset: ZERO, duration: fraction(1, 2), value: { base: 2, dots: 0 }, pitches: [{ spelled: spell(key('C'), 60), ref: '' }], tiedFrom: false, tiedTo: false };
 * syllableOf(metre(4, 4), { index: 0, number: 1, start: ZERO, length: fraction(1), symbols: [half], tuplets: [], beams: [] }, half) // => 'ta-a'
 */
export const syllableOf = (m: Metre, bar: ScoreBar, symbol: ScoreSymbol): string => {
  if (symbol.pitches.length === 0) return '';
  if (symbol.tiedFrom) return '-a';
  const inBar = placeInBar(m, bar, symbol.onset);
  const beat = beatAt(m, inBar);
  const tuplet = symbol.tuplet === undefined ? undefined : bar.tuplets[symbol.tuplet];
  if (tuplet?.actual === 3) {
    const third = divide(tuplet.duration, fraction(3));
    const slot = divide(subtract(symbol.onset, tuplet.onset), third);
    return slot.d === 1 ? (TRIPLET[slot.n] ?? 'ti') : 'ti';
  }
  const crotchets = multiply(symbol.duration, fraction(4));
  return isTernary(beat.length) && m.lower === 8
    ? compoundName(crotchets)
    : simpleName(crotchets, subtract(inBar, beat.start));
};

const NAMES: readonly (readonly [number, number, string])[] = [
  [4, 1, 'ta-a-a-a'],
  [3, 1, 'ta-a-a'],
  [2, 1, 'ta-a'],
  [3, 2, 'ta-i'],
  [1, 1, 'ta'],
  [3, 4, 'tim'],
  [1, 2, 'ti'],
];

const simpleName = (crotchets: Fraction, intoBeat: Fraction): string => {
  const named = NAMES.find(([n, d]) => equal(crotchets, fraction(n, d)));
  if (named !== undefined) return named[2];
  return divide(intoBeat, fraction(1, 16)).n % 2 === 1 ? 'ka' : 'ti';
};

const compoundName = (crotchets: Fraction): string => {
  if (equal(crotchets, fraction(3))) return 'tam-am';
  if (equal(crotchets, fraction(3, 2))) return 'tam';
  if (equal(crotchets, fraction(1))) return 'ta';
  return 'ti';
};
