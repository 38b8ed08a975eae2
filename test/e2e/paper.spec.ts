import { expect, type Page, test } from 'playwright/test';
import { scoreOfPlan } from '../../core/score/fromPlan.ts';
import type { Score } from '../../core/score/score.ts';
import { figures } from '../../renderer/page/glyphs.ts';
import type { PdfOptions as Paper } from '../../renderer/pdf/pagesOf.ts';
import { planOf } from '../bench/pieces.ts';
import { IDEA, pieceOfFour } from '../exchange/pieces.ts';
import { WHOLE_PIECES } from '../exchange/wholePieces.ts';
import { scoreOf } from '../gallery/situation.ts';
import { SITUATIONS } from '../gallery/situations/index.ts';
import type { OutHarness } from './outHarness.ts';
import { openOutPage } from './outPage.ts';
import { firstPageDrawn, fontsInPdf, readPdf } from './readPdf.ts';

declare global {
  var outHarness: OutHarness;
}

/** Four parts, 32 bars, letters at bars 9 and 17, a new tempo at bar 9. */
const long = (): Score =>
  scoreOfPlan(
    IDEA,
    {
      ...planOf({ bars: 32, parts: 4 }),
      letters: [
        { bar: 8, letter: 'A' },
        { bar: 16, letter: 'B' },
      ],
      tempi: [{ bar: 8, tempo: 120 }],
    },
    'Ferry bell',
    'Heron',
  );

type PdfOptions = Paper & { readonly className: string };
const OPTIONS: PdfOptions = { className: '8 Kestrel', nameStyle: 'british' };

const pdfOf = async (
  page: Page,
  score: Score,
  what: 'score' | 'parts',
  options: Partial<PdfOptions> = {},
): Promise<Buffer> =>
  Buffer.from(
    await page.evaluate(([s, w, o]) => outHarness.pdf(s, w, o), [
      score,
      what,
      { ...OPTIONS, ...options },
    ] as const),
    'base64',
  );

test.beforeEach(async ({ page }) => {
  await openOutPage(page);
});

test('everything the page draws, in every situation of the gallery, is understood', async ({ page }) => {
  const found = await page.evaluate(() => outHarness.unread());
  expect(found.unknown).toEqual([]);
  expect(found.systems).toBeGreaterThan(120);
  expect(found.marks).toBeGreaterThan(4000);
});

test('a score of four parts: A4, vector, with its text, read by pdf.js', async ({ page }) => {
  const pages = await readPdf(await pdfOf(page, long(), 'score'));
  expect(pages.length).toBeGreaterThan(2);
  pages.forEach((found, i) => {
    // A4 is 210 by 297 mm (ISO 216).
    expect(found.width).toBeCloseTo((210 / 25.4) * 72, 1);
    expect(found.height).toBeCloseTo((297 / 25.4) * 72, 1);
    expect(found.images).toBe(0);
    expect(found.paths).toBeGreaterThan(100);
    expect(found.text).toContain(`page ${String(i + 1)} of ${String(pages.length)}`);
    expect(found.text).toContain('Ferry bell, composed by Heron');
  });
  const first = pages[0]?.text ?? [];
  for (const said of ['Ferry bell', 'composed by Heron', 'class 8 Kestrel', 'the motif, 32 times'])
    expect(first).toContain(said);
  for (const name of ['Glockenspiel', 'Xylophone', 'Marimba', 'Vibraphone']) expect(first).toContain(name);
  const all = pages.flatMap(found => found.text);
  expect(all.join('|')).toMatch(/\|A\|/);
  expect(all.join('')).toContain(figures(120));
});

test('every font of a PDF is embedded and tells its letters, Bravura as OpenType outlines', async ({
  page,
}) => {
  const fonts = fontsInPdf(await pdfOf(page, long(), 'score', { under: ['letters', 'counts'] }));
  test.skip(fonts === undefined, 'poppler-utils is not installed');
  expect(fonts?.map(font => font.name.replace(/^[A-Z]{6}\+/, '')).sort()).toEqual([
    'AtkinsonHyperlegible-Bold',
    'AtkinsonHyperlegible-Italic',
    'AtkinsonHyperlegible-Regular',
    'Bravura',
  ]);
  for (const font of fonts ?? []) expect(font).toMatchObject({ embedded: true, unicode: true });
  expect(fonts?.find(font => font.name.endsWith('Bravura'))?.type).toBe('CID Type 0C');
});

test('parts: one file, every part on pages of its own, named on each, numbered from 1', async ({ page }) => {
  const score = long();
  const pages = await readPdf(await pdfOf(page, score, 'parts', { staveHeight: 12, under: ['letters'] }));
  const turns = pages.map(found => found.text.find(text => /^page \d+ of \d+$/.test(text)));
  const names = pages.map(found =>
    score.parts
      .filter(part => found.text.some(text => text === part.name || text.startsWith(`${part.name} (sounds `)))
      .map(p => p.name),
  );
  for (const on of names) expect(on).toHaveLength(1);
  // How it sounds is whole, on a line of its own.
  expect(pages.flatMap(found => found.text)).toContain('sounds an octave higher');
  // In the order of the score, each a run of its own.
  expect([...new Set(names.flat())]).toEqual(score.parts.map(part => part.name));
  score.parts.forEach(part => {
    const own = turns.filter((_, i) => names[i]?.[0] === part.name);
    expect(own).toEqual(own.map((_, i) => `page ${String(i + 1)} of ${String(own.length)}`));
    expect(own.length).toBeGreaterThan(1);
  });
  // Letters under every struck note of the first bar of the idea: C E G F♯ A G E.
  expect(pages[0]?.text.join(' ')).toMatch(/C E G F ?\S? ?A/);
});

test('a PDF has the ink of the page, system by system and place by place', async ({ page }) => {
  const score: Score = { ...pieceOfFour(), brackets: [] };
  const paper = await page.evaluate(([s, o]) => outHarness.onPaper(s, o), [score, OPTIONS] as const);
  const drawn = firstPageDrawn(await pdfOf(page, score, 'score'), 192);
  test.skip(drawn === undefined, 'poppler-utils is not installed');
  const shown = await page.evaluate(s => outHarness.onPage(s), score);
  const picture = (await page.screenshot({ fullPage: true, scale: 'css' })).toString('base64');
  const ink = async (
    png: string,
    boxes: typeof paper,
    scale: number,
  ): Promise<readonly (readonly number[])[]> =>
    page.evaluate(([p, b, s]) => outHarness.inkIn(p, b, s, 40, 12), [png, boxes, scale] as const);
  // Part names are not in the picture of the page: the left edge is left out of both.
  const music = (boxes: typeof paper): typeof paper =>
    boxes.map(box => ({ ...box, left: box.left + 100, width: box.width - 100 }));
  const onPaper = await ink(drawn ?? '', music(paper), 2);
  const onPage = await ink(picture, music(shown), 1);
  expect(onPaper).toHaveLength(2);
  expect(onPage).toHaveLength(2);
  onPaper.forEach((cells, i) => {
    const others = onPage[i] ?? [];
    const sum = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);
    // Two programs draw thin lines a little differently.
    expect(Math.abs(sum(cells) / sum(others) - 1)).toBeLessThan(0.15);
    const mean = sum(cells) / cells.length;
    const otherMean = sum(others) / others.length;
    const against = (a: readonly number[], b: readonly number[], ma: number, mb: number): number =>
      a.reduce((so, cell, k) => so + (cell - ma) * ((b[k] ?? 0) - mb), 0);
    const correlation =
      against(cells, others, mean, otherMean) /
      Math.sqrt(against(cells, cells, mean, mean) * against(others, others, otherMean, otherMean));
    expect(correlation).toBeGreaterThan(0.95);
  });
});

test('nothing leaves the margins at any stave height, with all rows of text and a title too long for its line', async ({
  page,
}) => {
  const score: Score = {
    ...scoreOfPlan(IDEA, planOf({ bars: 8, parts: 4 }), '', ''),
    title: 'A title without end '.repeat(12),
    codeName: 'Heron and Wren '.repeat(8),
  };
  const margin = (10 / 25.4) * 96;
  for (const staveHeight of [7, 8, 10, 12, 14] as const) {
    for (const under of [[], ['letters', 'counts', 'syllables']] as const) {
      const box = await page.evaluate(([s, o]) => outHarness.reach(s, o), [
        score,
        { ...OPTIONS, staveHeight, under },
      ] as const);
      const said = `${String(staveHeight)} mm, ${String(under.length)} rows`;
      const [width, height] = [(box.leaf.width / 25.4) * 96, (box.leaf.height / 25.4) * 96];
      expect(box.left, said).toBeGreaterThan(margin);
      expect(box.left + box.width, said).toBeLessThan(width - margin);
      expect(box.top, said).toBeGreaterThan(margin / 2);
      // Only the foot stands below the music.
      expect(box.top + box.height, said).toBeLessThan(height - (7 / 25.4) * 96);
      expect(box.below, said).toBeLessThan(height - (15 / 25.4) * 96);
    }
  }
});

test('no barline, line of an ending or word crosses the name of a statement, and no third of a score page is left empty for turns', async ({
  page,
}) => {
  const lettered = SITUATIONS.find(s => s.id === 'endings-lettered');
  expect(lettered).toBeDefined();
  const wordy = (score: Score): Score => ({
    ...score,
    brackets: score.brackets.map(b => ({
      ...b,
      text: `${b.text}, in imitation, an octave and a third higher`,
    })),
  });
  const scores = [long(), wordy(pieceOfFour()), ...(lettered === undefined ? [] : [scoreOf(lettered)])];
  const bottom = (297 - 17) * (96 / 25.4);
  let names = 0;
  for (const score of scores) {
    for (const staveHeight of [7, 14] as const) {
      const paper = await page.evaluate(([s, o]) => outHarness.pagesOfPaper(s, o), [
        score,
        { ...OPTIONS, staveHeight },
      ] as const);
      expect(paper.crossed).toEqual([]);
      // Whole, on as many lines as it takes.
      expect(paper.cut, `${String(staveHeight)} mm`).toEqual([]);
      names += paper.names;
      // Where the next system would not have fitted, nothing was left empty for a turn.
      const wasted = paper.systems.slice(0, -1).filter((boxes, p) => {
        const end = Math.max(...boxes.map(box => box.top + box.height));
        const next = paper.systems[p + 1]?.[0]?.height ?? 0;
        return end < bottom * (2 / 3) && end + next + 19 < bottom;
      });
      expect(wasted, `${String(staveHeight)} mm`).toEqual([]);
    }
  }
  expect(names).toBeGreaterThan(30);
  // A check of the check: without paper under them, names are crossed.
  const crossed = await page.evaluate(s => outHarness.planted(s), wordy(pieceOfFour()));
  expect(crossed.join()).toContain('by a line');
});

test('whole pieces fill their pages, each name readable; large print lies on its side where a line holds more so', async ({
  page,
}) => {
  const lying: string[] = [];
  for (const { name, score } of WHOLE_PIECES) {
    const pages: number[] = [];
    for (const staveHeight of [7, 14] as const) {
      const paper = await page.evaluate(([s, o]) => outHarness.pagesOfPaper(s, o), [
        score,
        { ...OPTIONS, staveHeight },
      ] as const);
      const said = `${name}, ${String(staveHeight)} mm`;
      expect(paper.crossed, said).toEqual([]);
      expect(paper.cut, said).toEqual([]);
      // 12 px on a stave of 7 mm; a name over one short bar may be as small as half of that.
      expect(paper.smallest, said).toBeGreaterThan((staveHeight / 7) * 12 * 0.49);
      // A4 is 210 by 297 mm (ISO 216), and one score keeps to one way up.
      const [leaf] = new Set(paper.leaves.map(l => `${String(l.width)} ${String(l.height)}`));
      expect(['210 297', '297 210']).toContain(leaf);
      expect(new Set(paper.leaves.map(l => l.width)).size, said).toBe(1);
      if (leaf === '297 210') lying.push(said);
      const bottom = ((paper.leaves[0]?.height ?? 0) - 17) * (96 / 25.4);
      paper.systems.forEach((boxes, p) => {
        const end = Math.max(...boxes.map(box => box.top + box.height));
        expect(end, said).toBeLessThan(bottom + 1);
        // Of a score of several parts every page but the last is full to its foot; under a heading there may be room for one
        // system only, whose staves are not drawn out for ever.
        if (score.parts.length > 1 && p < paper.systems.length - 1)
          expect(end, `${said}, page ${String(p + 1)}`).toBeGreaterThan((p === 0 ? 0.85 : 0.98) * bottom);
      });
      pages.push(paper.systems.length);
    }
    // Large print is twice as high and twice as wide: four times the paper, and a page for what is left.
    expect(pages[1] ?? 99, name).toBeLessThanOrEqual(4 * (pages[0] ?? 0) + 1);
  }
  expect(lying).toContain('Ferry bell, 14 mm');
  expect(lying.filter(said => said.endsWith(' 7 mm'))).toEqual([]);
});

test('a score in the largest print fills its pages, two bars a line', async ({ page }) => {
  for (const staveHeight of [12, 14] as const) {
    const { systems, leaves } = await page.evaluate(([s, o]) => outHarness.pagesOfPaper(s, o), [
      long(),
      { ...OPTIONS, staveHeight },
    ] as const);
    // 32 bars of seven notes each; the first line has names and a metre, too.
    expect(systems.length).toBeLessThanOrEqual(17);
    expect(leaves[0]).toEqual({ width: 297, height: 210 });
    systems.slice(0, -1).forEach(boxes => {
      const end = Math.max(...boxes.map(box => box.top + box.height)) / (96 / 25.4);
      expect(end, `${String(staveHeight)} mm`).toBeGreaterThan(0.98 * (210 - 17));
      expect(end, `${String(staveHeight)} mm`).toBeLessThanOrEqual(210 - 17 + 0.5);
    });
  }
});
