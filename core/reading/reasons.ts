import { equal, type Fraction, toNumber } from '../foundation/fraction.ts';
import { barLength, sameMetre, showMetre } from '../foundation/metre.ts';
import type { Reading } from './reading.ts';

const words = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];
const word = (k: number): string => words[k] ?? String(k);

const barOf = (reading: Reading, onset: Fraction): number =>
  Math.floor(toNumber(onset) / toNumber(barLength(reading.metre)) + 1e-9) + 1;

/** Bars that hold an onset only a triplet reaches. */
const tripletBars = (reading: Reading): readonly number[] => {
  const bars = reading.notes.filter(n => n.onset.d % 3 === 0).map(n => barOf(reading, n.onset));
  return [...new Set(bars)];
};

const finest = (reading: Reading): number =>
  Math.max(4, ...reading.notes.map(n => (n.onset.d % 3 === 0 ? 4 : n.onset.d)));

const VALUES: Readonly<Record<number, string>> = {
  4: 'crotchets',
  8: 'quavers',
  16: 'semiquavers',
  32: 'demisemiquavers',
};

const listed = (bars: readonly number[]): string =>
  bars.length === 1
    ? `bar ${String(bars[0])}`
    : bars.length <= 3
      ? `bars ${bars.slice(0, -1).join(', ')} and ${String(bars.at(-1))}`
      : `${word(bars.length)} bars`;

/** What a reading is, on its own: its smallest value, swing and triplets. */
const plain = (reading: Reading): string => {
  const swing = reading.swing;
  if (swing !== undefined) return `swung ${swing.unit.d === 16 ? 'semiquavers' : 'quavers'}`;
  const value = VALUES[finest(reading)] ?? 'quavers';
  const triplets = tripletBars(reading);
  return triplets.length === 0 ? `in ${value}` : `in ${value}, with triplets`;
};

const paceWord = (ratio: number): string | undefined => {
  if (Math.abs(ratio - 0.5) < 0.06) return 'at half the tempo';
  if (Math.abs(ratio - 2) < 0.2) return 'at twice the tempo';
  return Math.abs(ratio - 1) > 0.04 ? 'at another tempo' : undefined;
};

const elsewhere = (reading: Reading, best: Reading): string => {
  const placed = new Map(best.notes.map(n => [n.strike, n.onset]));
  const moved = reading.notes.filter(n => {
    const at = placed.get(n.strike);
    return at === undefined || !equal(at, n.onset);
  });
  const bars = [...new Set(moved.map(n => barOf(reading, n.onset)))];
  if (moved.length === 0) return 'the same places, other lengths';
  if (moved.length === reading.notes.length) return 'starting from another beat';
  const fresh = tripletBars(reading).filter(bar => !tripletBars(best).includes(bar));
  if (fresh.length > 0) return `triplets in ${listed(fresh)}`;
  const gone = tripletBars(best).filter(bar => !tripletBars(reading).includes(bar));
  if (gone.length > 0) return `no triplets in ${listed(gone)}`;
  return `${moved.length === 1 ? 'a note' : `${word(moved.length)} notes`} elsewhere in ${listed(bars)}`;
};

/** How a reading differs from the best one, by the first thing a musician would notice. */
const against = (reading: Reading, best: Reading): string => {
  if (!sameMetre(reading.metre, best.metre)) return `in ${showMetre(reading.metre)}`;
  const pace = paceWord(reading.tempo / best.tempo);
  if (pace !== undefined) return pace;
  if (reading.swing !== undefined && best.swing === undefined) return plain(reading);
  if (reading.swing === undefined && best.swing !== undefined) return 'not swung';
  return elsewhere(reading, best);
};

/**
 * Gives each reading its one line: the best says what it is, the others how they differ from it.
 * British value names; the interface may rename them.
 */
export const withReasons = (readings: readonly Reading[]): Reading[] => {
  const [best] = readings;
  if (best === undefined) return [];
  return readings.map((reading, i) => ({
    ...reading,
    reason: i === 0 ? plain(best) : against(reading, best),
  }));
};
