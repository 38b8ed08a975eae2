import type { Piece } from '../../../core/piece/piece.ts';
import { drawScore } from '../../page/drawScore.ts';
import { notationFontReady } from '../../page/fonts.ts';
import { scaleOfHeight } from '../../page/options.ts';
import type { PrintOptions } from '../../pdf/paper.ts';
import { nameStyle } from '../../store/app.ts';
import { scoreToHandOn } from '../../store/exportFiles.ts';

/** A4 less its margins, in CSS pixels at 96 to the inch. */
const WIDTH = Math.round(((210 - 28) / 25.4) * 96);

/** Lays a piece out for paper in the print area, beside the app, which print hides. */
export const layOutForPrint = async (
  piece: Piece,
  options: PrintOptions = {},
): Promise<HTMLElement | undefined> => {
  const area = document.getElementById('print');
  if (area === null) return undefined;
  await notationFontReady();
  const score = scoreToHandOn(piece);
  const sheet = document.createElement('article');
  sheet.className = 'printed';
  const title = document.createElement('h1');
  title.textContent = piece.title;
  const by = document.createElement('p');
  by.className = 'by';
  by.textContent = `${piece.codeName}, class ${piece.className}`;
  const host = document.createElement('div');
  area.replaceChildren(sheet);
  sheet.append(title, by, host);
  const staveHeight = options.staveHeight ?? 7;
  const larger = staveHeight / 7;
  const systems = drawScore(score, host, {
    width: WIDTH,
    scale: scaleOfHeight(staveHeight),
    staveHeight,
    under: options.under,
    nameStyle: nameStyle.value,
    above: score.brackets.length > 0 ? 20 * larger : 4,
    below: 2,
    names: score.parts.length > 1,
    tempo: true,
  });
  for (const system of systems) {
    for (const bracket of score.brackets) {
      const from = bracket.from.n / bracket.from.d;
      const stave = system.staves.find(s => s.part === bracket.part);
      if (stave === undefined || from < system.from - 1e-9 || from >= system.to - 1e-9) continue;
      const text = document.createElement('span');
      text.textContent = bracket.text;
      const near = system.anchors.filter(a => a.at <= from + 1e-9).at(-1)?.x ?? system.startX;
      text.style.cssText = `position:absolute;font-size:${String(9 * larger)}pt;font-style:italic;left:${String(near - 8)}px;top:${String(stave.inkTop - 20 * larger)}px`;
      system.element.append(text);
    }
  }
  return sheet;
};

/** Prints a piece, through the system's own print dialogue. */
export const printPiece = async (piece: Piece, options: PrintOptions = {}): Promise<void> => {
  if ((await layOutForPrint(piece, options)) !== undefined) window.print();
};
