import { keyName } from '../foundation/key.ts';
import { showMetre } from '../foundation/metre.ts';
import { corrected, motifOf, type Piece } from '../piece/piece.ts';
import { treatmentsUsed } from '../plan/naming.ts';

/** What a piece is grown with, its metre and its key, in words. */
export interface PieceFacts {
  readonly treatments: readonly string[];
  readonly metre: string;
  readonly key: string;
}

/** Worked out once: pieces never change. */
const known = new WeakMap<Piece, PieceFacts>();

/** A piece in the words that the register shows and finds it by. */
export const factsOf = (piece: Piece): PieceFacts => {
  const before = known.get(piece);
  if (before !== undefined) return before;
  const facts = {
    treatments: piece.plan === undefined ? [] : treatmentsUsed(motifOf(piece), piece.plan),
    metre: showMetre(corrected(piece).metre),
    key: keyName(piece.key),
  };
  known.set(piece, facts);
  return facts;
};
