const SVG = 'http://www.w3.org/2000/svg';

type Attributes = Readonly<Record<string, string | number>>;

/** Makes an SVG element. */
export const svg = (name: string, attributes: Attributes, ...children: (Node | string)[]): SVGElement => {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  element.append(...children);
  return element;
};

/** Words on the page. */
export const SANS = "'Atkinson Hyperlegible', sans-serif";
/** Signs of the notation font. */
export const NOTATION = 'Bravura';

/** Text whose strokes are not outlined, as VexFlow's drawing context would do. */
export const text = (x: number, y: number, content: string, attributes: Attributes): SVGElement =>
  svg('text', { x, y, stroke: 'none', ...attributes }, content);

/** A filled box: a line of any thickness. */
export const bar = (x: number, y: number, width: number, height: number): SVGElement =>
  svg('rect', { x, y, width, height, stroke: 'none' });
