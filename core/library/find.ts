import type { Piece } from '../piece/piece.ts';
import { factsOf } from './facts.ts';

const plain = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase();

/** Plain words of pieces already looked at; pieces never change. */
const known = new WeakMap<Piece, string>();

const holds = (text: string, asked: string): boolean =>
  plain(asked)
    .split(/\s+/)
    .every(word => word === '' || text.includes(word));

/**
 * Whether a text holds every word asked for, capitals and accents aside; always, for no words.
 * @example
 * hasWords('Héron, Ferry bell, canon', 'heron canon') // => true
 */
export const hasWords = (text: string, asked: string): boolean => holds(plain(text), asked);

/**
 * Whether a piece can be found by these words: code name, class, title, what it is grown with, metre, key.
 */
export const pieceHasWords = (piece: Piece, asked: string): boolean => {
  let text = known.get(piece);
  if (text === undefined) {
    const { treatments, metre, key } = factsOf(piece);
    text = plain([piece.codeName, piece.className, piece.title, ...treatments, metre, key].join(' '));
    known.set(piece, text);
  }
  return holds(text, asked);
};
