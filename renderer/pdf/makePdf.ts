import type { NameStyle } from '../../core/foundation/noteValue.ts';
import { partScores } from '../../core/exchange/partScores.ts';
import type { Score } from '../../core/score/score.ts';
import { notationFontReady } from '../page/fonts.ts';
import { loadFonts } from './fonts.ts';
import { paperPages } from './pages.ts';
import type { PrintOptions } from './paper.ts';
import { writePdf } from './writePdf.ts';

/** What a PDF needs besides the score. */
export interface PdfOptions extends PrintOptions {
  readonly className: string;
  readonly nameStyle: NameStyle;
}

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
  const [fonts] = await Promise.all([loadFonts(), notationFontReady()]);
  const about = { title: score.title, codeName: score.codeName, className: options.className };
  const pages =
    what === 'score'
      ? paperPages(score, about, fonts, options)
      : partScores(score).flatMap(own =>
          paperPages(own, { ...about, part: own.parts[0]?.name ?? '' }, fonts, options),
        );
  const bytes = await writePdf(pages, fonts, {
    title: score.title,
    author: score.codeName,
    oneSided: what === 'parts',
  });
  return { bytes, missing: fonts.missing() };
};
