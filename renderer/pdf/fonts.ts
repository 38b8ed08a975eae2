import bold from '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-700-normal.woff?url';
import italic from '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-400-italic.woff?url';
import plain from '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-400-normal.woff?url';
import boldMore from '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-ext-700-normal.woff?url';
import italicMore from '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-ext-400-italic.woff?url';
import plainMore from '@fontsource/atkinson-hyperlegible/files/atkinson-hyperlegible-latin-ext-400-normal.woff?url';
import notation from '@vexflow-fonts/bravura/bravura.otf?url';
import { create, type Font } from 'fontkit';
import type { Lettering } from './marks.ts';

/** One font file: its bytes for a PDF, its outlines for a picture. */
export interface Face {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly font: Font;
}

/** A stretch of text that one font file can write. */
export interface Run {
  readonly face: Face;
  readonly text: string;
  /** Over the text's own size. */
  readonly scale: number;
  /** Above the baseline, in the text's size. */
  readonly rise: number;
}

/** The fonts of a page. */
export interface Fonts {
  /** Text as runs; a character that no font of ours has is written as `?`. */
  runs(hand: Lettering, text: string): readonly Run[];
  /** Characters asked for so far that none of the fonts has. */
  missing(): readonly string[];
  /** In the unit of `size`. */
  width(hand: Lettering, size: number, text: string): number;
}

/** woff, not woff2: its outlines lie there as in the plain font, so that it can be cut down and embedded. */
const FILES: Readonly<Record<Lettering, readonly string[]>> = {
  notation: [notation],
  plain: [plain, plainMore],
  bold: [bold, boldMore],
  italic: [italic, italicMore],
};

const loadFace = async (name: string, url: string): Promise<Face> => {
  const answer = await fetch(url);
  if (!answer.ok) throw new Error(`the font ${name} could not be read (${String(answer.status)})`);
  const bytes = new Uint8Array(await answer.arrayBuffer());
  return { name, bytes, font: create(bytes) };
};

/** Signs the text font lacks but the notation font has, as large as letters: ♭ ♮ ♯. */
const BETWEEN_LETTERS = { scale: 1.1, rise: 0.33 };
/** A space thinner than any our fonts have, a tenth of the size: written as nothing, but it takes room. */
const HAIR = '\u200a';
const HAIR_WIDTH = 0.1;

const glyphsWidth = (face: Face, text: string): number =>
  face.font.layout(text).glyphs.reduce((so, glyph) => so + glyph.advanceWidth, 0) / face.font.unitsPerEm;

/** @throws when a font file cannot be fetched; callers make a Problem of it. */
export const loadFonts = async (): Promise<Fonts> => {
  const hands = Object.keys(FILES) as Lettering[];
  const faces = new Map(
    await Promise.all(
      hands.map(
        async hand =>
          [
            hand,
            await Promise.all(FILES[hand].map((url, i) => loadFace(`${hand}${i === 0 ? '' : '+'}`, url))),
          ] as const,
      ),
    ),
  );
  return fontsOf(hand => faces.get(hand) ?? []);
};

/** Fonts from faces at hand, each hand's first choice first. */
export const fontsOf = (facesOf: (hand: Lettering) => readonly Face[]): Fonts => {
  const has = (face: Face, char: string): boolean => face.font.hasGlyphForCodePoint(char.codePointAt(0) ?? 0);
  const [signs] = facesOf('notation');
  const missing = new Set<string>();
  const choose = (hand: Lettering, char: string): Omit<Run, 'text'> | undefined => {
    const own = facesOf(hand).find(face => has(face, char));
    if (own !== undefined) return { face: own, scale: 1, rise: 0 };
    if (signs !== undefined && hand !== 'notation' && has(signs, char))
      return { face: signs, ...BETWEEN_LETTERS };
    return undefined;
  };
  const runs = (hand: Lettering, text: string): readonly Run[] => {
    const out: Run[] = [];
    for (const char of text) {
      if (char === HAIR) continue;
      const chosen = choose(hand, char);
      const run = chosen ?? choose(hand, '?');
      if (run === undefined) continue;
      const written = chosen === undefined ? '?' : char;
      if (chosen === undefined) missing.add(char);
      const last = out.at(-1);
      if (last !== undefined && last.face === run.face && last.scale === run.scale)
        out[out.length - 1] = { ...last, text: last.text + written };
      else out.push({ ...run, text: written });
    }
    return out;
  };
  const width = (hand: Lettering, size: number, text: string): number =>
    size *
    (runs(hand, text).reduce((so, run) => so + run.scale * glyphsWidth(run.face, run.text), 0) +
      HAIR_WIDTH * (text.split(HAIR).length - 1));
  return { runs, width, missing: () => [...missing] };
};

/** How far each run begins from the left end of the words, and how wide it is, in the unit of `size`. */
export const placedRuns = (
  fonts: Fonts,
  hand: Lettering,
  size: number,
  text: string,
): readonly (Run & { readonly from: number })[] => {
  let from = 0;
  return fonts.runs(hand, text).map(run => {
    const here = from;
    from += size * run.scale * glyphsWidth(run.face, run.text);
    return { ...run, from: here };
  });
};
