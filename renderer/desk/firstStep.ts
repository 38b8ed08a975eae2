import type { Piece } from '../../core/piece/piece.ts';
import type { View } from './session.ts';

/** The way from an idea to a kept piece, in the order it is gone. */
export const FIRST_STEPS = ['strike', 'catch', 'write', 'grow', 'keep'] as const;
export type FirstStep = (typeof FIRST_STEPS)[number];

/** What tells how far somebody has come. */
export interface Come {
  /** How many strikes of whoever plays now are remembered. */
  readonly strikes: number;
  readonly piece: Pick<Piece, 'plan'> | undefined;
  readonly view: View;
  /** Whether a version of the piece was kept as it is. */
  readonly isKept: boolean;
}

/**
 * The step somebody stands before; undefined at the end of the way. A step is done by doing it, in whatever way: what
 * was done without being asked for is not asked for any more.
 * @example
 * firstStep({ strikes: 0, piece: undefined, view: 'play', isKept: false }) // => 'strike'
 * firstStep({ strikes: 9, piece: {}, view: 'write', isKept: false }) // => 'write'
 */
export const firstStep = ({ strikes, piece, view, isKept }: Come): FirstStep | undefined => {
  if (isKept) return undefined;
  if (piece === undefined) return strikes === 0 ? 'strike' : 'catch';
  if (piece.plan !== undefined) return 'keep';
  return view === 'grow' || view === 'keep' ? 'grow' : 'write';
};
