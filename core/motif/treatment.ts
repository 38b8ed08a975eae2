import type { Fraction } from '../foundation/fraction.ts';

/** One technique, as data. A statement carries a chain of them, applied in order. */
export type Treatment =
  | { readonly kind: 'transpose'; readonly by: 'scale' | 'semitone'; readonly steps: number }
  | { readonly kind: 'octave'; readonly octaves: number }
  | { readonly kind: 'augment'; readonly factor: Fraction }
  | { readonly kind: 'diminish'; readonly factor: Fraction }
  | { readonly kind: 'invert'; readonly by: 'scale' | 'semitone'; readonly axis?: number }
  | { readonly kind: 'retrograde' }
  | { readonly kind: 'fragment'; readonly from: Fraction; readonly to: Fraction };
