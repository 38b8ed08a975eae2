import type { PieceFacts } from './facts.ts';

const plain = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();

/** Plain words of pieces already looked at; facts never change. */
const known = new WeakMap<PieceFacts, string>();

/**
 * The words of a search, made plain.
 * @example
 * askedWords('Héron  canon') // => ['heron', 'canon']
 */
export const askedWords = (asked: string): readonly string[] =>
  plain(asked)
    .split(/\s+/)
    .filter(word => word !== '');

const holds = (text: string, words: readonly string[]): boolean => words.every(word => text.includes(word));

/**
 * Whether a text holds every word asked for, capitals and accents aside; always, for no words.
 * @example
 * hasWords('Héron, Ferry bell, canon', askedWords('heron canon')) // => true
 */
export const hasWords = (text: string, words: readonly string[]): boolean => holds(plain(text), words);

/**
 * Whether a piece can be found by these words: code name, class, title, what it is grown with, metres, key.
 */
export const factsHaveWords = (facts: PieceFacts, words: readonly string[]): boolean => {
  let text = known.get(facts);
  if (text === undefined) {
    const { codeName, className, title, treatments, metres, key } = facts;
    text = plain([codeName, className, title, ...treatments, ...metres, key].join(' '));
    known.set(facts, text);
  }
  return holds(text, words);
};
