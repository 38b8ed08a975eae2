import type { Piece } from '../piece/piece.ts';
import type { ClassList } from './classList.ts';

/** What every revision of an item carries, whatever the item is. */
export interface Stamp {
  readonly id: string;
  readonly revision: string;
  /** Revisions it was made from; none for a first save, two where rivals were settled. */
  readonly parents: readonly string[];
  /** ISO 8601. */
  readonly savedAt: string;
  /** Put away: it stays where it is, and the register shows it only when asked. */
  readonly away?: true;
}

/** One revision of one piece, as a file of the class library holds it. */
export interface Saved extends Stamp {
  /** Kept by itself, so that nothing is lost; a version is what the teacher or the pupil kept. */
  readonly draft?: true;
  readonly piece: Piece;
}

/** One revision of a class list, as a file of the class library holds it. */
export interface SavedClass extends Stamp {
  readonly list: ClassList;
}
