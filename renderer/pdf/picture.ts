import { textScore } from '../../core/exchange/textScore.ts';
import { writeXml, xml } from '../../core/exchange/xml.ts';
import type { NameStyle } from '../../core/foundation/noteValue.ts';
import type { Score } from '../../core/score/score.ts';
import { widthOnOneLine } from '../page/drawScore.ts';
import { notationFontReady } from '../page/fonts.ts';
import { scaleOfHeight } from '../page/options.ts';
import { type Fonts, loadFonts, placedRuns } from './fonts.ts';
import { type Mark, moved, transformed, type PathStep, stepsOfPath, type Words } from './marks.ts';
import { MM, MUSIC_WIDTH, type PrintOptions } from './paper.ts';
import { planSystems } from './systems.ts';

/** A picture that stands alone, as SVG, and its size in CSS pixels. */
export interface Picture {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
}

/** White round the music, in CSS pixels. */
const EDGE = 10;
const BETWEEN = 14;

/**
 * A short score as a picture: one line where it fits the width of a page, else several. All signs
 * and words are outlines, so it looks the same in any program; the words are in its description.
 * @throws when a font file cannot be fetched
 */
export const picture = async (
  score: Score,
  options: PrintOptions & { readonly nameStyle: NameStyle },
): Promise<Picture> => {
  const [fonts] = await Promise.all([loadFonts(), notationFontReady()]);
  const natural = Math.ceil((widthOnOneLine(score) + 4) * scaleOfHeight(options.staveHeight ?? 7));
  const width = Math.min(MUSIC_WIDTH, natural);
  const systems = planSystems(score, fonts, { ...options, width, names: false, brackets: false }).draw();
  let y = EDGE;
  const marks = systems.flatMap(system => {
    const top = y;
    y += system.height + BETWEEN;
    return system.marks.map(mark => moved(mark, EDGE, top));
  });
  const size = { width: width + 2 * EDGE, height: y - BETWEEN + EDGE };
  const title = score.codeName === '' ? score.title : `${score.title}, composed by ${score.codeName}`;
  const description = textScore(score, options.nameStyle).join('\n');
  return { ...size, svg: asSvg(marks, size, title, description, fonts) };
};

/** Marks as an SVG document of outlines alone; `size` in CSS pixels. */
export const asSvg = (
  marks: readonly Mark[],
  size: { readonly width: number; readonly height: number },
  title: string,
  description: string,
  fonts: Fonts,
): string => {
  const tree = xml(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      version: '1.1',
      role: 'img',
      width: `${number(size.width / MM)}mm`,
      height: `${number(size.height / MM)}mm`,
      viewBox: `0 0 ${number(size.width)} ${number(size.height)}`,
    },
    xml('title', {}, title),
    xml('desc', {}, description),
    marks.flatMap(mark => (mark.kind === 'words' ? wordPaths(mark, fonts) : [shapePath(mark)])),
  );
  return `<?xml version="1.0" encoding="UTF-8"?>\n${writeXml(tree)}`;
};

const number = (value: number): string => String(Math.round(value * 100) / 100);

const written = (steps: readonly PathStep[]): string =>
  steps.map(([command, ...numbers]) => command + numbers.map(number).join(' ')).join('');

const shapePath = (shape: Exclude<Mark, Words>): ReturnType<typeof xml> =>
  xml('path', {
    d: written(shape.steps),
    fill: shape.fill ?? 'none',
    ...(shape.stroke === undefined ? {} : { stroke: shape.stroke, 'stroke-width': number(shape.width) }),
  });

/** Words as the outlines of their letters, one path for each run. */
const wordPaths = (words: Words, fonts: Fonts): ReturnType<typeof xml>[] =>
  placedRuns(fonts, words.hand, words.size, words.text).map(run => {
    const scale = (words.size * run.scale) / run.face.font.unitsPerEm;
    const base = words.y - run.rise * words.size;
    let pen = words.x + run.from;
    const steps = run.face.font.layout(run.text).glyphs.flatMap(glyph => {
      const left = pen;
      pen += glyph.advanceWidth * scale;
      return (stepsOfPath(glyph.path.toSVG()) ?? []).map(step =>
        transformed(
          step,
          x => left + x * scale,
          y => base - y * scale,
        ),
      );
    });
    return xml('path', { d: written(steps), fill: words.fill });
  });
