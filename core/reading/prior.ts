import { type Division, needs, strikesIn } from './patterns.ts';

/**
 * How likely each pattern is in a beat that divides in two: nats for the sixteen patterns of four
 * semiquavers (slot 0 lowest bit), before the vocabulary is normalised.
 */
const QUARTERS: readonly number[] = [
  2.4, 1.6, 4.6, 4.0, 2.25, 1.45, 3.8, 3.6, 4.3, 2.8, 4.9, 3.6, 3.7, 3.0, 3.7, 2.85,
];
/** The eight patterns of three thirds in such a beat; 0 and 1 belong to the whole beat. */
const THIRDS: readonly number[] = [Infinity, Infinity, 4.6, 4.6, 4.6, 4.0, 3.2, 2.2];
/** The eight patterns of three quavers in a beat that divides in three. */
const QUAVERS: readonly number[] = [3.0, 1.7, 2.5, 2.2, 2.3, 2.0, 1.7, 1.4];

/** Patterns finer than these: so much for the division, and so much for each place that differs from its neighbour. */
const fine = (division: Division, mask: number): number => {
  const n = strikesIn(mask);
  if (division === 6) return mask === 63 ? 3.4 : 4.4 + 0.5 * (6 - n);
  if (division === 8) return mask === 255 ? 4.2 : 5.2 + 0.35 * (8 - n);
  return 6 + 0.3 * (12 - n);
};

const tables = new Map<string, Float64Array>();

/** Nats of every mask of a division in a cell of two or three parts; Infinity where not spelt so. */
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
    if (division === 1) return QUARTERS[mask] ?? Infinity;
    if (division === 2) return QUARTERS[(mask & 1) | ((mask & 2) << 1)] ?? Infinity;
    if (division === 4) return QUARTERS[mask] ?? Infinity;
    if (division === 3) return THIRDS[mask] ?? Infinity;
    return fine(division, mask);
  }
  if (division === 1) return QUAVERS[mask] ?? Infinity;
  if (division === 3) return QUAVERS[mask] ?? Infinity;
  if (division === 2) return 4.5;
  if (division === 6) return 3.6 + 0.25 * (6 - strikesIn(mask));
  if (division === 12) return 6 + 0.3 * (12 - strikesIn(mask));
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

/** Costs of all patterns of one vocabulary in one kind of cell, normalised so that they are probabilities. */
export interface Book {
  readonly divisions: readonly Division[];
  readonly costs: readonly Float64Array[];
}

const books = new Map<string, Book>();

export const bookOf = (vocabulary: Vocabulary, parts: 2 | 3): Book => {
  const divisions = parts === 2 ? vocabulary.two : vocabulary.three;
  const name = `${String(parts)}|${divisions.join()}`;
  const made = books.get(name);
  if (made !== undefined) return made;
  let total = 0;
  for (const d of divisions) for (const c of patternCosts(parts, d)) total += Math.exp(-c);
  const shift = Math.log(total);
  const book = { divisions, costs: divisions.map(d => patternCosts(parts, d).map(c => c + shift)) };
  books.set(name, book);
  return book;
};
