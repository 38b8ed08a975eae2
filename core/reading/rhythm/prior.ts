import { itemAt } from '../model/at.ts';
import { type Division, needs, patternOf, strikesIn } from './patterns.ts';
import { FAST_SLOT, RHYTHM } from './constants.ts';

const { quarters: QUARTERS, thirds: THIRDS, quavers: QUAVERS } = RHYTHM;

/** Patterns finer than these: so much for the division, and so much for each place that differs from its neighbour. */
const fine = (division: Division, mask: number): number => {
  const n = strikesIn(mask);
  const { sixths, eighths, twelfths } = RHYTHM;
  const full = n === division;
  if (division === 6) return sixths.all + sixths.empty * (6 - n) + (full ? sixths.full : 0);
  if (division === 8) return eighths.all + eighths.empty * (8 - n) + (full ? eighths.full : 0);
  return twelfths.all + twelfths.empty * (12 - n);
};

const tables = new Map<string, Float64Array>();

/**
 * Nats of every mask of a division in a cell of two or three parts; Infinity where not spelt so.
 * @example
 * patternCosts(2, 4)[0b0101] // => Infinity
 * patternCosts(2, 2)[0b11] // => RHYTHM.quarters[0b101]
 */
export const patternCosts = (parts: 2 | 3, division: Division): Float64Array => {
  const name = `${String(parts)}:${String(division)}`;
  const made = tables.get(name);
  if (made !== undefined) return made;
  const table = new Float64Array(1 << division).fill(Infinity);
  for (let mask = 0; mask < table.length; mask++) {
    if (!needs(division, mask)) continue;
    table[mask] = costOf(parts, division, mask);
  }
  tables.set(name, table);
  return table;
};

const costOf = (parts: 2 | 3, division: Division, mask: number): number => {
  if (parts === 2) {
    if (division === 1) return itemAt(QUARTERS, mask);
    if (division === 2) return itemAt(QUARTERS, (mask & 1) | ((mask & 2) << 1));
    if (division === 4) return itemAt(QUARTERS, mask);
    if (division === 3) return itemAt(THIRDS, mask);
    return fine(division, mask);
  }
  if (division === 1) return itemAt(QUAVERS, mask);
  if (division === 3) return itemAt(QUAVERS, mask);
  const { sixthsInThree, twelfths } = RHYTHM;
  if (division === 2) return RHYTHM.twoInThree;
  if (division === 4) return RHYTHM.fourInThree;
  if (division === 6) return sixthsInThree.all + sixthsInThree.empty * (6 - strikesIn(mask));
  if (division === 12) return twelfths.all + twelfths.empty * (12 - strikesIn(mask));
  return Infinity;
};

/** The divisions a phrase may use, in cells of two and of three parts. */
export interface Vocabulary {
  readonly name: string;
  readonly two: readonly Division[];
  readonly three: readonly Division[];
  /** Nats for choosing this vocabulary. */
  readonly cost: number;
}

/** The price in nats of every pattern under one vocabulary; Infinity for patterns outside it. */
export interface Prices {
  /** When the last beat had another pattern. */
  readonly fresh: Float64Array;
  /** When the last beat had the same. */
  readonly again: Float64Array;
}

export interface PriceList {
  readonly two: Prices;
  readonly three: Prices;
}

const LARGEST_PATTERN = 13 * 4096;
/** Kept by the vocabulary itself, never by its name: several vocabularies share one name. */
const lists = new WeakMap<Vocabulary, PriceList>();

/**
 * With chance `same` a beat simply takes over the last beat's pattern, else it is drawn afresh; so a
 * rare figure that goes on is not paid for every time.
 */
const priced = (divisions: readonly Division[], parts: 2 | 3): Prices => {
  const fresh = new Float64Array(LARGEST_PATTERN).fill(Infinity);
  let total = 0;
  for (const d of divisions) for (const c of patternCosts(parts, d)) total += Math.exp(-c);
  for (const d of divisions) {
    patternCosts(parts, d).forEach((c, mask) => (fresh[patternOf(d, mask)] = c + Math.log(total)));
  }
  const { same } = RHYTHM;
  return {
    fresh: fresh.map(c => c - Math.log(1 - same)),
    again: fresh.map(c => (c === Infinity ? c : -Math.log(same + (1 - same) * Math.exp(-c)))),
  };
};

/** Normalised, so that a phrase that needs no fine division is cheaper without it. */
export const pricesOf = (vocabulary: Vocabulary): PriceList => {
  const made = lists.get(vocabulary);
  if (made !== undefined) return made;
  const list = { two: priced(vocabulary.two, 2), three: priced(vocabulary.three, 3) };
  lists.set(vocabulary, list);
  return list;
};

/**
 * Nats for dividing a cell into slots of this many seconds.
 * @returns 0 or more
 * @example
 * speedCost(0.2) // => 0
 * speedCost(FAST_SLOT / 2) // => RHYTHM.perHalving
 */
export const speedCost = (slot: number): number =>
  slot >= FAST_SLOT ? 0 : RHYTHM.perHalving * Math.log2(FAST_SLOT / slot);
