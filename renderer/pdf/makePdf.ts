import { pagesOf, type PdfOptions, type ToPrint } from './pagesOf.ts';
import { writePdf } from './writePdf.ts';

/** A PDF, and the characters of its words that its fonts do not have: they stand as `?`. */
export interface MadePdf {
  readonly bytes: Uint8Array;
  readonly missing: readonly string[];
}

/**
 * Scores, or every part of them on pages of its own, as one PDF.
 * @param title of the file
 * @throws when a font is missing; callers make a Problem of it
 */
export const makePdf = async (
  all: readonly ToPrint[],
  what: 'score' | 'parts',
  options: PdfOptions,
  title = all[0]?.score.title ?? '',
): Promise<MadePdf> => {
  const { pages, fonts } = await pagesOf(all, what, options);
  const bytes = await writePdf(pages, fonts, {
    title,
    author: [...new Set(all.map(one => one.score.codeName))].join(', '),
    // What is handed out apart must not share a leaf.
    oneSided: what === 'parts' || all.length > 1,
  });
  return { bytes, missing: fonts.missing() };
};
