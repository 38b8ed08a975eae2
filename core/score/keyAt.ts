import { type Key, signature } from '../foundation/key.ts';
import type { BarIndex } from '../foundation/units.ts';
import type { Score } from './score.ts';

type Keyed = Pick<Score, 'key' | 'keys'>;

/**
 * The key a bar is written in.
 * @param index of the bar, from 0, an upbeat counted
 * @example
 * keyName(keyAt({ key: key('C'), keys: [{ bar: 4, key: key('G') }] }, 4)) // => 'G major'
 */
export const keyAt = ({ key, keys = [] }: Keyed, index: BarIndex): Key =>
  keys.filter(change => change.bar <= index).at(-1)?.key ?? key;

/** Signs of a key signature that takes the place of another. */
export interface SignatureChange {
  /** Sharps (above zero) or flats (below) before and from now on. */
  readonly from: number;
  readonly to: number;
}

/**
 * Whether another signature stands at the beginning of a bar, and which. Undefined for the first bar, which has
 * the clef's own, and where the new key has as many signs.
 * @example
 * signatureChange({ key: key('G'), keys: [{ bar: 4, key: key('C') }] }, 4) // => { from: 1, to: 0 }
 * signatureChange({ key: key('C'), keys: [{ bar: 4, key: key('A', 'minor') }] }, 4) // => undefined
 */
export const signatureChange = (score: Keyed, index: BarIndex): SignatureChange | undefined => {
  if (index < 1 || score.keys?.some(change => change.bar === index) !== true) return undefined;
  const from = signature(keyAt(score, index - 1));
  const to = signature(keyAt(score, index));
  return from === to ? undefined : { from, to };
};
