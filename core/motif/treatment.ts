import type { Fraction } from '../foundation/fraction.ts';
import type { Ornament } from './vary.ts';

/** One technique, as data. A statement carries a chain of them, applied in order. */
export type Treatment =
  /**
   * `steps` are of what `by` names: degrees of the scale, or semitones; up above zero. The name is that of
   * saved files, and stays.
   */
  | { readonly kind: 'transpose'; readonly by: 'scale' | 'semitone'; readonly steps: number }
  | { readonly kind: 'octave'; readonly octaves: number }
  | { readonly kind: 'augment'; readonly factor: Fraction }
  | { readonly kind: 'diminish'; readonly factor: Fraction }
  | { readonly kind: 'invert'; readonly by: 'scale' | 'semitone'; readonly axis?: number }
  | { readonly kind: 'retrograde' }
  | { readonly kind: 'fragment'; readonly from: Fraction; readonly to: Fraction }
  /** Variation: other pitches of its own in the same rhythm, its lengths in another order, or ornaments. */
  | { readonly kind: 'pitches'; readonly from: readonly number[] }
  | { readonly kind: 'lengths'; readonly from: readonly number[] }
  | { readonly kind: 'ornament'; readonly ornaments: readonly Ornament[] };
