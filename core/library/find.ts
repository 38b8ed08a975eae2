import { treatmentsUsed } from '../plan/naming.ts';
import { motifOf } from '../piece/piece.ts';
import type { RegisterEntry } from './library.ts';

const plain = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();

/** What a kept piece can be found by: code name, class, title, and the techniques it was grown with. */
const wordsOf = (entry: RegisterEntry): string => {
  const { piece } = entry;
  const grown = piece.plan === undefined ? [] : treatmentsUsed(motifOf(piece), piece.plan);
  return plain([piece.codeName, piece.className, piece.title, ...grown].join(' '));
};

/** Words of entries already looked at; entries never change. */
const known = new WeakMap<RegisterEntry, string>();

/**
 * Entries that hold every word asked for, capitals and accents aside; all of them for no words.
 * @example
 * findEntries([], 'heron canon') // => []
 */
export const findEntries = (entries: readonly RegisterEntry[], asked: string): readonly RegisterEntry[] => {
  const words = plain(asked)
    .split(/\s+/)
    .filter(word => word !== '');
  if (words.length === 0) return entries;
  return entries.filter(entry => {
    const text = known.get(entry) ?? wordsOf(entry);
    known.set(entry, text);
    return words.every(word => text.includes(word));
  });
};
