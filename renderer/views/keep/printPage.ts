import { detailOf } from '../../../core/foundation/result.ts';
import type { Piece } from '../../../core/piece/piece.ts';
import type { PrintOptions } from '../../pdf/paper.ts';
import { scoreToRead } from '../../desk/acts/handOn.ts';
import { complain } from '../../desk/commands/messages.ts';
import type { Desk } from '../../desk/desk.ts';

/** The pages have margins of their own; with none of the browser's it prints no address and date either. */
const WHOLE_PAGE = '@page { size: A4; margin: 0 }';

/** Lays a piece out for paper in the print area, beside the app, which print hides: the pages of its PDF. */
export const layOutForPrint = async (desk: Desk, piece: Piece, options: PrintOptions): Promise<boolean> => {
  const area = document.getElementById('print');
  if (area === null) return false;
  const { printedPages } = await import('../../pdf/printedPages.ts');
  const pages = await printedPages(scoreToRead(desk, piece), {
    ...options,
    className: piece.className,
    nameStyle: desk.nameStyle.peek(),
  });
  const style = document.createElement('style');
  style.textContent = WHOLE_PAGE;
  area.replaceChildren(style, ...pages);
  return true;
};

/** Prints a piece, through the system's own print dialogue. */
export const printPiece = async (desk: Desk, piece: Piece, options: PrintOptions): Promise<void> => {
  try {
    if (await layOutForPrint(desk, piece, options)) window.print();
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
