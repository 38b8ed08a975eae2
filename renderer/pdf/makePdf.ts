import type { Score } from '../../core/score/score.ts';
import { pagesOf, type PdfOptions } from './pagesOf.ts';
import { writePdf } from './writePdf.ts';

/** A PDF, and the characters of its words that its fonts do not have: they stand as `?`. */
export interface MadePdf {
  readonly bytes: Uint8Array;
  readonly missing: readonly string[];
}

/**
 * The score, or one file with every part on pages of its own, as a PDF.
 * @throws when a font is missing; callers make a Problem of it
 */
export const makePdf = async (
  score: Score,
  what: 'score' | 'parts',
  options: PdfOptions,
): Promise<MadePdf> => {
  const { pages, fonts } = await pagesOf(score, what, options);
  const bytes = await writePdf(pages, fonts, {
    title: score.title,
    author: score.codeName,
    oneSided: what === 'parts',
  });
  return { bytes, missing: fonts.missing() };
};
