import type { Fonts } from './fonts.ts';
import {
  boxSteps,
  circleSteps,
  type Lettering,
  INK,
  type Mark,
  transformed,
  type PathStep,
  stepsOfPath,
} from './marks.ts';

/** What an element hands down to the ones inside it. */
interface Style {
  readonly fill: string | undefined;
  readonly stroke: string | undefined;
  readonly width: number;
  readonly family: string;
  readonly size: number;
  readonly bold: boolean;
  readonly italic: boolean;
}

const PLAIN: Style = {
  fill: INK,
  stroke: undefined,
  width: 1,
  family: '',
  size: 16,
  bold: false,
  italic: false,
};

/** `black`, `none`, `#abc` and `#aabbcc`, which is what the page uses; everything else is ink. */
const colour = (value: string | null, inherited: string | undefined): string | undefined => {
  if (value === null) return inherited;
  if (value === 'none') return undefined;
  const short = /^#([0-9a-f])([0-9a-f])([0-9a-f])$/i.exec(value);
  if (short !== null)
    return `#${short
      .slice(1)
      .map(c => c + c)
      .join('')}`;
  return /^#[0-9a-f]{6}$/i.test(value) ? value : INK;
};

/** A length in pixels; points are 4/3 of one (CSS). */
const length = (value: string | null, inherited: number): number => {
  if (value === null) return inherited;
  const size = Number.parseFloat(value);
  return value.endsWith('pt') ? (size * 4) / 3 : size;
};

const styleOf = (element: Element, from: Style): Style => {
  const get = (name: string): string | null => element.getAttribute(name);
  return {
    fill: colour(get('fill'), from.fill),
    stroke: colour(get('stroke'), from.stroke),
    width: length(get('stroke-width'), from.width),
    family: get('font-family') ?? from.family,
    size: length(get('font-size'), from.size),
    bold: get('font-weight') === null ? from.bold : get('font-weight') === 'bold',
    italic: get('font-style') === null ? from.italic : get('font-style') === 'italic',
  };
};

const handOf = (style: Style): Lettering => {
  if (style.family.startsWith('Bravura')) return 'notation';
  return style.bold ? 'bold' : style.italic ? 'italic' : 'plain';
};

const attribute = (element: Element, name: string): number => Number(element.getAttribute(name) ?? 0);

const outlineOf = (element: Element): readonly PathStep[] | undefined => {
  const get = (name: string): number => attribute(element, name);
  switch (element.localName) {
    case 'rect':
      return boxSteps(get('x'), get('y'), get('width'), get('height'));
    case 'circle':
      return circleSteps(get('cx'), get('cy'), get('r'));
    case 'path':
      return stepsOfPath(element.getAttribute('d') ?? '');
    default:
      return undefined;
  }
};

/** A box thinner than this, in the drawing's units, is a line. */
const THIN = 2.5;

/**
 * A thin filled box as a stroked line: some readers round filled boxes away at small sizes, and keep
 * strokes at one pixel or more.
 */
const asLine = (element: Element, style: Style): Mark | undefined => {
  if (element.localName !== 'rect' || style.stroke !== undefined || style.fill === undefined)
    return undefined;
  const [x, y, width, height] = [
    attribute(element, 'x'),
    attribute(element, 'y'),
    attribute(element, 'width'),
    attribute(element, 'height'),
  ];
  if (Math.min(width, height) >= THIN) return undefined;
  const steps: readonly PathStep[] =
    width > height
      ? [
          ['M', x, y + height / 2],
          ['L', x + width, y + height / 2],
        ]
      : [
          ['M', x + width / 2, y],
          ['L', x + width / 2, y + height],
        ];
  return { kind: 'shape', steps, stroke: style.fill, width: Math.min(width, height) };
};

/** The words of a text element and its spans, one after another, white space as SVG shows it. */
const wordsOf = (element: Element, style: Style, fonts: Fonts): Mark[] => {
  const pieces: { text: string; style: Style; dx: number }[] = [];
  const collect = (node: Node, from: Style, dx: number): void => {
    if (node instanceof Element) {
      const own = styleOf(node, from);
      const shift = attribute(node, 'dx');
      node.childNodes.forEach((child, i) => {
        collect(child, own, i === 0 ? shift : 0);
      });
    } else pieces.push({ text: node.textContent ?? '', style: from, dx });
  };
  element.childNodes.forEach(child => {
    collect(child, style, 0);
  });
  let spaced = true;
  const placed: { text: string; style: Style; from: number }[] = [];
  let x = 0;
  for (const { text: raw, style: own, dx } of pieces) {
    const single = raw.replace(/[ \t\n]+/g, ' ');
    const text: string = spaced && single.startsWith(' ') ? single.slice(1) : single;
    if (text === '') continue;
    spaced = text.endsWith(' ');
    x += dx;
    placed.push({ text, style: own, from: x });
    x += fonts.width(handOf(own), own.size, text);
  }
  const anchor = element.getAttribute('text-anchor');
  const back = anchor === 'middle' ? x / 2 : anchor === 'end' ? x : 0;
  return placed.flatMap(({ text, style: own, from }) => {
    if (own.fill === undefined) return [];
    const left = attribute(element, 'x') - back + from;
    return [
      {
        kind: 'words',
        x: left,
        y: attribute(element, 'y'),
        text,
        hand: handOf(own),
        size: own.size,
        fill: own.fill,
      },
    ];
  });
};

/** What was read, and the names of elements that are not understood, so that a test can see there are none. */
export interface ReadPicture {
  readonly marks: readonly Mark[];
  readonly unknown: readonly string[];
}

/**
 * The page's own drawing as marks: the SVG that `renderer/page` makes (svg, g, rect, circle, path,
 * text, tspan; no transforms but the scale of `viewBox`), in CSS pixels from its top left corner.
 */
export const readSvg = (svg: SVGSVGElement, fonts: Fonts): ReadPicture => {
  const marks: Mark[] = [];
  const unknown: string[] = [];
  const visit = (element: Element, from: Style): void => {
    const style = styleOf(element, from);
    if (element.hasAttribute('transform')) unknown.push(`${element.localName} transform`);
    switch (element.localName) {
      case 'svg':
      case 'g':
        for (const child of element.children) visit(child, style);
        return;
      case 'text':
        marks.push(...wordsOf(element, style, fonts));
        return;
      default: {
        const line = asLine(element, style);
        const steps = outlineOf(element);
        if (line !== undefined) marks.push(line);
        else if (steps === undefined) unknown.push(element.localName);
        else if ((style.fill ?? style.stroke) !== undefined) {
          marks.push({
            kind: 'shape',
            steps,
            width: style.width,
            ...(style.fill === undefined ? {} : { fill: style.fill }),
            ...(style.stroke === undefined ? {} : { stroke: style.stroke }),
          });
        }
      }
    }
  };
  visit(svg, PLAIN);
  const drawn = attribute(svg, 'width');
  const [, , units = drawn] = (svg.getAttribute('viewBox') ?? '').split(/[ ,]+/).map(Number);
  const scale = units > 0 ? drawn / units : 1;
  return { marks: marks.map(mark => scaled(mark, scale)), unknown };
};

/** A mark drawn larger or smaller, from the top left corner. */
export const scaled = (mark: Mark, scale: number): Mark => {
  if (mark.kind === 'words')
    return { ...mark, x: mark.x * scale, y: mark.y * scale, size: mark.size * scale };
  const by = (n: number): number => n * scale;
  return { ...mark, width: mark.width * scale, steps: mark.steps.map(step => transformed(step, by, by)) };
};
