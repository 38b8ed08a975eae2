import { keyName } from '../foundation/key.ts';
import { showMetre } from '../foundation/metre.ts';
import { corrected, motifOf, type Piece } from '../piece/piece.ts';
import { type Outline, outlineOfMotif } from './outline.ts';
import { treatmentsUsed } from '../plan/naming.ts';

/** What the register knows of a piece without opening it: whose it is, and its metres, key and treatments in words. */
export interface PieceFacts {
  readonly title: string;
  readonly codeName: string;
  readonly className: string;
  /** Whether anything was grown from the idea. */
  readonly grown: boolean;
  readonly treatments: readonly string[];
  /** Whether the teacher said something of it. */
  readonly hasFeedback: boolean;
  /** How many times something was played to it and kept. */
  readonly playings: number;
  /** Of its idea, and after it those of later bars; each once. */
  readonly metres: readonly string[];
  readonly key: string;
  /** What its idea is told by among others, whatever its key and tempo. */
  readonly outline: Outline;
}

/** Worked out once: pieces never change. */
const known = new WeakMap<Piece, PieceFacts>();

/** A piece in the words that the register shows and finds it by. */
export const factsOf = (piece: Piece): PieceFacts => {
  const before = known.get(piece);
  if (before !== undefined) return before;
  const { title, codeName, className, plan, assessment } = piece;
  const motif = motifOf(piece);
  const facts = {
    title,
    codeName,
    className,
    grown: plan !== undefined,
    treatments: plan === undefined ? [] : treatmentsUsed(motif, plan),
    hasFeedback: assessment !== undefined && (assessment.feedback !== '' || assessment.judgements.length > 0),
    playings: piece.playings?.length ?? 0,
    metres: [...new Set([corrected(piece).metre, ...(plan?.metres ?? []).map(m => m.metre)].map(showMetre))],
    key: keyName(piece.key),
    outline: outlineOfMotif(motif),
  };
  known.set(piece, facts);
  return facts;
};
