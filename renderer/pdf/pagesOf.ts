import { partScores } from '../../core/exchange/partScores.ts';
import type { NameStyle } from '../../core/foundation/noteValue.ts';
import { INSTRUMENTS, transpositionWords } from '../../core/instruments/instruments.ts';
import { withLongRests } from '../../core/score/longRests.ts';
import type { Score } from '../../core/score/score.ts';
import { notationFontReady } from '../page/fonts.ts';
import { type Fonts, loadFonts } from './fonts.ts';
import { type PaperPage, paperPages } from './pages.ts';
import type { PrintOptions } from './paper.ts';

/** A score that goes on paper, and the class of its pupil. */
export interface ToPrint {
  readonly score: Score;
  readonly className: string;
}

/** How it goes on paper. */
export interface PdfOptions extends PrintOptions {
  readonly nameStyle: NameStyle;
  /** Asked before each score: others may go on meanwhile. What it throws ends the work. @param index of the score */
  readonly before?: (index: number) => Promise<void>;
}

/** Whose part it is, and how it sounds where that is not as written. */
const partHeading = (own: Score): string => {
  const [part] = own.parts;
  if (part === undefined) return '';
  const sounds = transpositionWords(INSTRUMENTS[part.instrument].soundsAbove);
  return sounds === '' ? part.name : `${part.name} (${sounds})`;
};

/**
 * The pages of scores, or of every part of them, one after another; the same for PDF and print.
 * @throws when a font file cannot be fetched
 */
export const pagesOf = async (
  all: readonly ToPrint[],
  what: 'score' | 'parts',
  options: PdfOptions,
): Promise<{ readonly pages: readonly PaperPage[]; readonly fonts: Fonts }> => {
  const [fonts] = await Promise.all([loadFonts(), notationFontReady()]);
  const pages: PaperPage[] = [];
  for (const [i, { score, className }] of all.entries()) {
    await options.before?.(i);
    const about = { title: score.title, codeName: score.codeName, className };
    pages.push(
      ...(what === 'score'
        ? paperPages(
            score,
            score.parts.length === 1 ? { ...about, part: partHeading(score) } : about,
            fonts,
            options,
          )
        : partScores(score).flatMap(own =>
            paperPages(withLongRests(own), { ...about, part: partHeading(own) }, fonts, options),
          )),
    );
  }
  return { pages, fonts };
};
