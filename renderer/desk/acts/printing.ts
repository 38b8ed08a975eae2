import type { Piece } from '../../../core/piece/piece.ts';
import type { PdfOptions, ToPrint } from '../../pdf/pagesOf.ts';
import { onPaper, scoreToRead } from './handOn.ts';
import { complain } from '../commands/messages.ts';
import type { Desk } from '../desk.ts';
import { detailOf } from '../../../core/foundation/result.ts';

/** The pages have margins of their own; with none of the browser's it prints no address and date either. */
const WHOLE_PAGE =
  '@page { size: A4; margin: 0 } @page on-its-side { size: A4 landscape; margin: 0 } .paper-on-its-side { page: on-its-side }';

/** Lays pieces out for paper in the print area, beside the app, which print hides: the pages of their PDF. */
export const layOutForPrint = async (all: readonly ToPrint[], options: PdfOptions): Promise<boolean> => {
  const area = document.getElementById('print');
  if (area === null) return false;
  const { printedPages } = await import('../../pdf/printedPages.ts');
  const pages = await printedPages(all, options);
  const style = document.createElement('style');
  style.textContent = WHOLE_PAGE;
  area.replaceChildren(style, ...pages);
  return true;
};

/** Prints a piece, through the system's own print dialogue. */
export const printPiece = async (desk: Desk, piece: Piece): Promise<void> => {
  try {
    const all = [{ score: scoreToRead(desk, piece), className: piece.className }];
    if (await layOutForPrint(all, onPaper(desk))) window.print();
  } catch (thrown) {
    desk.run(complain, {
      kind: 'unexpected',
      what: 'The pages to print could not be made.',
      kept: 'The piece is as it was.',
      next: 'Try again.',
      detail: detailOf(thrown),
    });
  }
};
