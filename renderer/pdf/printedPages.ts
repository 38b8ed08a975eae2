import { pagesOf, type PdfOptions, type ToPrint } from './pagesOf.ts';
import { asSvg } from './picture.ts';

/**
 * The pages a PDF would have, each as a drawing for the browser to print.
 * @throws when a font file cannot be fetched
 */
export const printedPages = async (
  all: readonly ToPrint[],
  options: PdfOptions,
): Promise<readonly Element[]> => {
  const { pages, fonts } = await pagesOf(all, 'score', options);
  const title = all.length === 1 ? (all[0]?.score.title ?? '') : `${String(all.length)} pieces`;
  return pages.map((page, i) => {
    const svg = asSvg(page.marks, page.leaf, `${title}, page ${String(i + 1)}`, '', fonts);
    const drawn = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    drawn.classList.add('paper');
    if (page.leaf.width > page.leaf.height) drawn.classList.add('paper-on-its-side');
    return document.importNode(drawn, true);
  });
};
