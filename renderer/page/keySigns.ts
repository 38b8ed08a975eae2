import { signature } from '../../core/foundation/key.ts';
import { keyAt, type SignatureChange, signatureChange } from '../../core/score/keyAt.ts';
import type { Score, ScorePart } from '../../core/score/score.ts';
import { NOTATION, svg, text } from './svg.ts';

/** Where the signs of a signature stand in the treble clef, in their order, from the top line down, in stave units. */
const SHARPS = [0, 15, -5, 10, 25, 5, 20] as const;
const FLATS = [20, 5, 25, 10, 30, 15, 35] as const;
/** The bass clef has the same letters a third further down. */
const BASS = 10;

/** Signs (SMuFL), and how far apart they stand, in stave units. */
const SHARP = { glyph: '\ue262', width: 11 } as const;
const FLAT = { glyph: '\ue260', width: 9.5 } as const;
const NATURAL = { glyph: '\ue261', width: 9 } as const;

/** Air between the barline and the first sign, and after the last. */
const BEFORE = 9;
const AFTER = 6;

/**
 * The signs that a new signature is written with: its own; where it has none, naturals for those that no longer hold.
 * That is all modern practice asks for: with signs of its own nothing is cancelled, for a double barline goes before
 * (Gould, Behind Bars, 2011; from memory).
 */
const signsOf = ({
  from,
  to,
}: SignatureChange): { sign: typeof SHARP | typeof FLAT | typeof NATURAL; places: readonly number[] } => {
  const shown = to === 0 ? from : to;
  const places = (shown > 0 ? SHARPS : FLATS).slice(0, Math.abs(shown));
  return { sign: to === 0 ? NATURAL : to > 0 ? SHARP : FLAT, places };
};

/** Room a new signature takes from its barline on, in stave units; none where nothing changes. */
export const keySignsWidth = (change: SignatureChange | undefined): number => {
  if (change === undefined) return 0;
  const { sign, places } = signsOf(change);
  return BEFORE + sign.width * places.length + AFTER;
};

/** How far a sharp's or natural's ink reaches over its place, in stave units. */
const SIGN_REACH = 15;

/** How far so many sharps or naturals reach over the top line of a stave; the bass clef's stay under it, as flats do. */
const signsAbove = (signs: number, clef: ScorePart['clef']): number =>
  clef === 'bass' || signs <= 0 ? 0 : SIGN_REACH - Math.min(...SHARPS.slice(0, signs));

/** How far the signature in the head of a system reaches over a stave, in stave units. */
export const headSignsAbove = (score: Score, clef: ScorePart['clef'], first: number): number =>
  signsAbove(signature(keyAt(score, first)), clef);

/** The same of new signatures in a system, the one announced at its end among them. */
export const keySignsAbove = (
  score: Score,
  clef: ScorePart['clef'],
  first: number,
  count: number,
): number => {
  const changes = Array.from({ length: count }, (_, b) => signatureChange(score, first + b + 1));
  const most = changes.map(change => (change?.to === 0 ? change.from : change?.to) ?? 0);
  return signsAbove(Math.max(0, ...most), clef);
};

/** A new signature after the barline at `x`; `top` is the first line of the stave. */
export const keySigns = (
  change: SignatureChange,
  clef: ScorePart['clef'],
  x: number,
  top: number,
): SVGElement => {
  const group = svg('g', { class: 'key-signs' });
  const { sign, places } = signsOf(change);
  group.append(
    ...places.map((place, i) =>
      text(x + BEFORE + i * sign.width, top + place + (clef === 'bass' ? BASS : 0), sign.glyph, {
        'font-family': NOTATION,
        'font-size': 40,
      }),
    ),
  );
  return group;
};
