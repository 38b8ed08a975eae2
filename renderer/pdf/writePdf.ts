import {
  appendBezierCurve,
  beginText,
  closePath,
  concatTransformationMatrix,
  Duplex,
  endText,
  fill,
  fillAndStroke,
  lineTo,
  moveTo,
  PDFDocument,
  type PDFFont,
  type PDFOperator,
  type PDFPage,
  PrintScaling,
  setFillingRgbColor,
  setFontAndSize,
  setLineWidth,
  setStrokingRgbColor,
  setTextMatrix,
  showText,
  stroke,
} from '@cantoo/pdf-lib';
import * as fontkit from 'fontkit';
import { type Face, type Fonts, placedRuns } from './fonts.ts';
import type { Shape, PathStep, Words } from './marks.ts';
import type { PaperPage } from './pages.ts';

/** Points in a CSS pixel: 72 to 96 (CSS and ISO 32000 both fix the inch). */
const POINTS = 72 / 96;

const channels = (colour: string): [number, number, number] => {
  const value = Number.parseInt(colour.slice(1), 16);
  return [((value >> 16) & 255) / 255, ((value >> 8) & 255) / 255, (value & 255) / 255];
};

const short = (value: number): number => Math.round(value * 1000) / 1000;

const outline = (step: PathStep): PDFOperator => {
  switch (step[0]) {
    case 'M':
      return moveTo(short(step[1]), short(step[2]));
    case 'L':
      return lineTo(short(step[1]), short(step[2]));
    case 'C':
      return appendBezierCurve(
        short(step[1]),
        short(step[2]),
        short(step[3]),
        short(step[4]),
        short(step[5]),
        short(step[6]),
      );
    case 'Z':
      return closePath();
  }
};

const shapeOperators = (shape: Shape): PDFOperator[] => [
  ...(shape.fill === undefined ? [] : [setFillingRgbColor(...channels(shape.fill))]),
  ...(shape.stroke === undefined
    ? []
    : [setStrokingRgbColor(...channels(shape.stroke)), setLineWidth(short(shape.width))]),
  ...shape.steps.map(outline),
  shape.stroke === undefined ? fill() : shape.fill === undefined ? stroke() : fillAndStroke(),
];

/** Six letters and a plus before a font's name say that it was cut down (ISO 32000-1, 9.6.4). */
const subsetName = (face: Face, index: number): string =>
  `MALLE${String.fromCharCode(65 + index)}+${face.font.postscriptName}`;

/** Embeds a font when it is first needed, cut down to the signs that are used. */
type Embedded = (face: Face) => Promise<PDFFont>;

const wordsOperators = async (
  words: Words,
  fonts: Fonts,
  embedded: Embedded,
  nameOn: (font: PDFFont) => Parameters<typeof setFontAndSize>[0],
): Promise<PDFOperator[]> => {
  const out: PDFOperator[] = [setFillingRgbColor(...channels(words.fill))];
  for (const run of placedRuns(fonts, words.hand, words.size, words.text)) {
    const font = await embedded(run.face);
    out.push(
      beginText(),
      setFontAndSize(nameOn(font), short(words.size * run.scale)),
      // The page counts downwards, so letters are turned upright again.
      setTextMatrix(1, 0, 0, -1, short(words.x + run.from), short(words.y - run.rise * words.size)),
      showText(font.encodeText(run.text)),
      endText(),
    );
  }
  return out;
};

const drawPage = async (
  page: PDFPage,
  content: PaperPage,
  fonts: Fonts,
  embedded: Embedded,
): Promise<void> => {
  const names = new Map<PDFFont, ReturnType<typeof page.node.newFontDictionary>>();
  const nameOn = (font: PDFFont): ReturnType<typeof page.node.newFontDictionary> => {
    const name = names.get(font) ?? page.node.newFontDictionary(font.name, font.ref);
    names.set(font, name);
    return name;
  };
  // From here on a unit is a CSS pixel and y runs downwards, as on the page.
  const all: PDFOperator[] = [
    concatTransformationMatrix(POINTS, 0, 0, -POINTS, 0, content.leaf.height * POINTS),
  ];
  for (const mark of content.marks) {
    if (mark.kind === 'shape') all.push(...shapeOperators(mark));
    else all.push(...(await wordsOperators(mark, fonts, embedded, nameOn)));
  }
  page.pushOperators(...all);
};

/** What a PDF says of itself. */
export interface PdfAbout {
  readonly title: string;
  readonly author: string;
  /** Never two players' parts on one sheet: asks the print dialogue for one side. */
  readonly oneSided: boolean;
}

/**
 * Pages as a PDF: vector outlines, fonts embedded and cut down to what is used, true to size.
 * @throws when a font cannot be embedded
 */
export const writePdf = async (
  pages: readonly PaperPage[],
  fonts: Fonts,
  about: PdfAbout,
): Promise<Uint8Array> => {
  const pdf = await PDFDocument.create();
  pdf.registerFontkit(fontkit as unknown as Parameters<typeof pdf.registerFontkit>[0]);
  pdf.setTitle(about.title, { showInWindowTitleBar: true });
  pdf.setAuthor(about.author);
  pdf.setCreator('Malletloom');
  pdf.setProducer('Malletloom');
  pdf.setLanguage('en-GB');
  const preferences = pdf.catalog.getOrCreateViewerPreferences();
  preferences.setPrintScaling(PrintScaling.None);
  if (about.oneSided) preferences.setDuplex(Duplex.Simplex);
  const known = new Map<Face, PDFFont>();
  const embedded: Embedded = async face => {
    const font =
      known.get(face) ??
      (await pdf.embedFont(face.bytes, { subset: true, customName: subsetName(face, known.size) }));
    known.set(face, font);
    return font;
  };
  for (const content of pages) {
    const page = pdf.addPage([content.leaf.width * POINTS, content.leaf.height * POINTS]);
    await drawPage(page, content, fonts, embedded);
  }
  return pdf.save();
};
