// Bundled into an empty page by paper.spec.ts: paper and pictures of any score, without the app round them.
import type { Score } from '../../core/score/score.ts';
import { drawScore } from '../../renderer/page/drawScore.ts';
import { notationFontReady } from '../../renderer/page/fonts.ts';
import { scaleOfHeight } from '../../renderer/page/options.ts';
import { loadFonts } from '../../renderer/pdf/fonts.ts';
import { makePdf } from '../../renderer/pdf/makePdf.ts';
import { type PaperPage, paperPages } from '../../renderer/pdf/pages.ts';
import type { PdfOptions as Paper } from '../../renderer/pdf/pagesOf.ts';
import { MUSIC_WIDTH } from '../../renderer/pdf/paper.ts';
import { planSystems } from '../../renderer/pdf/systems.ts';
import { crossings } from './paperInk.ts';
import { optionsOf, scoreOf } from '../gallery/situation.ts';
import { SITUATIONS } from '../gallery/situations/index.ts';

type PdfOptions = Paper & { readonly className: string };

/** Elements of the page's drawing that are not understood, over every situation of the gallery. */
const unread = async (): Promise<{ systems: number; marks: number; unknown: readonly string[] }> => {
  const fonts = await loadFonts();
  await notationFontReady();
  const all = SITUATIONS.flatMap(s =>
    planSystems(scoreOf(s), fonts, {
      width: 700,
      names: true,
      brackets: true,
      nameStyle: 'british',
      under: optionsOf(s).under ?? ['letters', 'counts'],
    }).draw(),
  );
  return {
    systems: all.length,
    marks: all.reduce((so, system) => so + system.marks.length, 0),
    unknown: [...new Set(all.flatMap(system => system.unknown))],
  };
};

const pdf = async (score: Score, what: 'score' | 'parts', options: PdfOptions): Promise<string> => {
  const { bytes } = await makePdf([{ score, className: options.className }], what, options);
  let text = '';
  for (let i = 0; i < bytes.length; i += 32768) text += String.fromCharCode(...bytes.subarray(i, i + 32768));
  return btoa(text);
};

/** A box on paper or on the page, in CSS pixels. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

const MILLIMETRE = 96 / 25.4;
interface LeafFound {
  readonly width: number;
  readonly height: number;
}
/** The size of a page, in mm. */
const leafOf = (page: PaperPage): LeafFound => ({
  width: Math.round(page.leaf.width / MILLIMETRE),
  height: Math.round(page.leaf.height / MILLIMETRE),
});

/** Where the systems of the first page of a PDF stand. */
const onPaper = async (score: Score, options: PdfOptions): Promise<readonly Box[]> => {
  const fonts = await loadFonts();
  await notationFontReady();
  const about = { title: score.title, codeName: score.codeName, className: options.className };
  return paperPages(score, about, fonts, options)[0]?.systems ?? [];
};

/** How many pages a score takes, and the box round everything on any of them. */
const reach = async (
  score: Score,
  options: PdfOptions,
): Promise<Box & { readonly pages: number; readonly below: number; readonly leaf: LeafFound }> => {
  const fonts = await loadFonts();
  await notationFontReady();
  const about = { title: score.title, codeName: score.codeName, className: options.className };
  const pages = paperPages(score, about, fonts, options);
  const xs: number[] = [];
  const ys: number[] = [];
  for (const mark of pages.flatMap(page => page.marks)) {
    if (mark.kind === 'words') {
      xs.push(mark.x, mark.x + fonts.width(mark.hand, mark.size, mark.text));
      ys.push(mark.y);
    } else {
      for (const step of mark.steps) {
        if (step[0] === 'Z') continue;
        xs.push(step[1]);
        ys.push(step[2]);
      }
    }
  }
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  return {
    left,
    top,
    width: Math.max(...xs) - left,
    height: Math.max(...ys) - top,
    pages: pages.length,
    leaf: pages.map(leafOf)[0] ?? { width: 0, height: 0 },
    below: Math.max(...pages.flatMap(page => page.systems.map(system => system.top + system.height))),
  };
};

/** What is found when names lie behind the drawing instead of on paper of their own: a check of the check. */
const planted = async (score: Score): Promise<readonly string[]> => {
  const fonts = await loadFonts();
  await notationFontReady();
  const pages = paperPages(score, { ...score, className: '' }, fonts, { nameStyle: 'british' });
  return pages.flatMap(
    page =>
      crossings(
        page.marks.filter(mark => mark.kind === 'words' || mark.fill !== '#ffffff'),
        fonts,
      ).crossed,
  );
};

/** Where the systems of every page of a PDF stand, and what crosses the names of statements on them. */
const pagesOfPaper = async (
  score: Score,
  options: PdfOptions,
): Promise<{
  systems: readonly (readonly Box[])[];
  crossed: readonly string[];
  cut: readonly string[];
  names: number;
  leaves: readonly LeafFound[];
  smallest: number;
}> => {
  const fonts = await loadFonts();
  await notationFontReady();
  const pages = paperPages(score, { ...score, className: options.className }, fonts, options);
  const found = pages.map(page => crossings(page.marks, fonts));
  return {
    systems: pages.map(page => page.systems),
    crossed: found.flatMap((of, i) => of.crossed.map(said => `page ${String(i + 1)}: ${said}`)),
    cut: found.flatMap(of => of.cut),
    names: found.reduce((so, of) => so + of.names, 0),
    leaves: pages.map(leafOf),
    smallest: Math.min(
      ...pages.flatMap(p =>
        p.marks.flatMap(m => (m.kind === 'words' && m.hand === 'italic' ? [m.size] : [])),
      ),
    ),
  };
};

/** Shows the same systems as the page draws them, for a picture of it; where they stand. */
const onPage = async (score: Score): Promise<readonly Box[]> => {
  await notationFontReady();
  const host = document.createElement('div');
  document.body.style.cssText = 'margin:0;background:#fff';
  document.body.replaceChildren(host);
  const systems = drawScore(score, host, {
    width: MUSIC_WIDTH,
    scale: scaleOfHeight(7),
    staveHeight: 7,
    above: score.brackets.length > 0 ? 20 : 4,
    below: 2,
    names: score.parts.length > 1,
    tempo: true,
  });
  // Names are words beside the drawing; they are compared as text.
  host.querySelectorAll('.part-name').forEach(name => {
    name.remove();
  });
  await document.fonts.ready;
  return systems.map(system => {
    const { left, top, height } = system.element.getBoundingClientRect();
    return { left, top, width: MUSIC_WIDTH, height };
  });
};

/** Share of ink in each cell of a grid laid over a box of a picture. */
const inkIn = async (
  png: string,
  boxes: readonly Box[],
  scale: number,
  columns: number,
  rows: number,
): Promise<readonly (readonly number[])[]> => {
  const image = new Image();
  image.src = `data:image/png;base64,${png}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = image.width;
  canvas.height = image.height;
  const context = canvas.getContext('2d');
  if (context === null) throw new Error('no canvas');
  context.drawImage(image, 0, 0);
  return boxes.map(box => {
    const [w, h] = [Math.round(box.width * scale), Math.round(box.height * scale)];
    const { data } = context.getImageData(Math.round(box.left * scale), Math.round(box.top * scale), w, h);
    const cells = new Array<number>(columns * rows).fill(0);
    for (let y = 0; y < h; y++) {
      for (let x = 0; x < w; x++) {
        const dark = 1 - (data[(y * w + x) * 4] ?? 255) / 255;
        const cell = Math.floor((y * rows) / h) * columns + Math.floor((x * columns) / w);
        cells[cell] = (cells[cell] ?? 0) + (dark * columns * rows) / (w * h);
      }
    }
    return cells;
  });
};

const outHarness = { pdf, pagesOfPaper, planted, unread, onPaper, onPage, reach, inkIn };
export type OutHarness = typeof outHarness;
Object.assign(globalThis, { outHarness });
