import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** What an independent reader (pdf.js) finds on a page of a PDF. */
export interface PdfPageFound {
  /** In points. */
  readonly width: number;
  readonly height: number;
  readonly text: readonly string[];
  readonly paths: number;
  readonly images: number;
}

const IMAGES = new Set([
  OPS.paintImageXObject,
  OPS.paintInlineImageXObject,
  OPS.paintImageMaskXObject,
  OPS.paintImageXObjectRepeat,
]);

/** Reads a PDF with pdf.js (Mozilla; tests only): text, outlines and pictures, page by page. */
export const readPdf = async (bytes: Uint8Array): Promise<readonly PdfPageFound[]> => {
  const reading = getDocument({ data: new Uint8Array(bytes), verbosity: 0, isEvalSupported: false });
  const pdf = await reading.promise;
  const pages: PdfPageFound[] = [];
  for (let number = 1; number <= pdf.numPages; number++) {
    const page = await pdf.getPage(number);
    const { width, height } = page.getViewport({ scale: 1 });
    const content = await page.getTextContent();
    const { fnArray } = await page.getOperatorList();
    pages.push({
      width,
      height,
      text: content.items.flatMap(item => ('str' in item && item.str.trim() !== '' ? [item.str] : [])),
      paths: fnArray.filter(fn => fn === OPS.constructPath).length,
      images: fnArray.filter(fn => IMAGES.has(fn)).length,
    });
  }
  await reading.destroy();
  return pages;
};

/** Runs one of poppler's programs (poppler-utils) on a PDF; undefined, said aloud, where it is missing. */
const poppler = (program: string, bytes: Uint8Array, ...options: string[]): string | undefined => {
  const folder = mkdtempSync(join(tmpdir(), 'malletloom-'));
  writeFileSync(join(folder, 'in.pdf'), bytes);
  const done = spawnSync(
    program,
    [...options, 'in.pdf', 'out'].slice(0, program === 'pdffonts' ? -1 : undefined),
    {
      cwd: folder,
      encoding: 'utf8',
    },
  );
  if (done.error !== undefined) {
    console.warn(
      `SKIPPED: ${program} (poppler-utils) is not installed, so what it would have checked was not.`,
    );
    return undefined;
  }
  if (done.status !== 0) throw new Error(`${program}: ${done.stderr}`);
  return program === 'pdffonts' ? done.stdout : folder;
};

export interface FontFound {
  readonly name: string;
  readonly type: string;
  readonly embedded: boolean;
  readonly unicode: boolean;
}

/** The fonts poppler finds in a PDF. */
export const fontsInPdf = (bytes: Uint8Array): readonly FontFound[] | undefined =>
  poppler('pdffonts', bytes)
    ?.split('\n')
    .slice(2)
    .filter(line => line !== '')
    .map(line => {
      const [, name = '', type = '', embedded, unicode] =
        /^(\S+)\s+(.+?)\s+\S+\s+(yes|no)\s+(?:yes|no)\s+(yes|no)\s+\d+/.exec(line) ?? [];
      return { name, type, embedded: embedded === 'yes', unicode: unicode === 'yes' };
    });

/** The first page as poppler draws it, PNG in base64, at so many dots an inch. */
export const firstPageDrawn = (bytes: Uint8Array, dots: number): string | undefined => {
  const folder = poppler('pdftoppm', bytes, '-png', '-r', String(dots), '-singlefile');
  return folder === undefined ? undefined : readFileSync(join(folder, 'out.png')).toString('base64');
};
