import { partScores } from '../../core/exchange/partScores.ts';
import type { NameStyle } from '../../core/foundation/noteValue.ts';
import type { Score } from '../../core/score/score.ts';
import { notationFontReady } from '../page/fonts.ts';
import { type Fonts, loadFonts } from './fonts.ts';
import { type PaperPage, paperPages } from './pages.ts';
import type { PrintOptions } from './paper.ts';

/** What paper needs besides the score. */
export interface PdfOptions extends PrintOptions {
  readonly className: string;
  readonly nameStyle: NameStyle;
}

/**
 * The pages of a score, or of every part one after another; the same for PDF and print.
 * @throws when a font file cannot be fetched
 */
export const pagesOf = async (
  score: Score,
  what: 'score' | 'parts',
  options: PdfOptions,
): Promise<{ readonly pages: readonly PaperPage[]; readonly fonts: Fonts }> => {
  const [fonts] = await Promise.all([loadFonts(), notationFontReady()]);
  const about = { title: score.title, codeName: score.codeName, className: options.className };
  const pages =
    what === 'score'
      ? paperPages(score, about, fonts, options)
      : partScores(score).flatMap(own =>
          paperPages(own, { ...about, part: own.parts[0]?.name ?? '' }, fonts, options),
        );
  return { pages, fonts };
};
