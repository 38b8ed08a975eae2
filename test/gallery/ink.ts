/** A sign or a word as it is drawn: its ink, in CSS pixels of the page. */
interface Ink {
  readonly kind: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** The symbol it belongs to. */
  readonly owner: Element | null;
}

const KINDS: readonly (readonly [string, string])[] = [
  ['.vf-notehead', 'head'],
  ['.vf-flag', 'flag'],
  ['.vf-tuplet', 'tuplet number'],
  ['.vf-clef', 'clef'],
  ['.vf-keysignature', 'key signature'],
  ['.key-signs', 'key signature'],
  ['.vf-timesignature, .metre-signs', 'time signature'],
  ['.vf-stavenote', 'sign'],
  ['.articulation', 'articulation'],
  ['.dynamic', 'dynamic'],
  ['.under-letters', 'letter name'],
  ['.under-counts', 'count'],
  ['.under-syllables', 'syllable'],
  ['.fermata', 'fermata'],
  ['.stave-words', 'words'],
  ['.slower', 'words of tempo'],
  ['.tempo-mark', 'tempo'],
  ['.swing-mark', 'swing sign'],
  ['.rehearsal', 'rehearsal letter'],
  ['.bar-number', 'bar number'],
  ['.repeat-times', 'times'],
  ['.ending', 'ending'],
  ['.roll', 'roll'],
  ['.dead-stroke', 'dead stroke'],
  ['.gliss-word', 'word of a glissando'],
  ['.gliss-end', 'small head'],
];

const kindOf = (element: Element): string =>
  KINDS.find(([selector]) => element.closest(selector) !== null)?.[1] ?? 'other';

let measuring: CanvasRenderingContext2D | null = null;

/** Ink, not the font's own box, which is far taller than any sign. */
const inkOfText = (element: SVGTextElement): Ink | undefined => {
  measuring ??= document.createElement('canvas').getContext('2d');
  const matrix = element.getScreenCTM();
  const style = getComputedStyle(element);
  const content = element.textContent;
  if (measuring === null || matrix === null || content === '') return undefined;
  // Measured large, for the ink is rounded to whole pixels.
  const size = parseFloat(style.fontSize);
  measuring.font = `${style.fontStyle} ${style.fontWeight} 400px ${style.fontFamily}`;
  const found = measuring.measureText(content);
  const by = size / 400;
  const anchor = style.textAnchor;
  const shift = anchor === 'middle' ? found.width / 2 : anchor === 'end' ? found.width : 0;
  const x = element.x.baseVal[0]?.value ?? 0;
  const y = element.y.baseVal[0]?.value ?? 0;
  const at = (dx: number, dy: number): DOMPoint =>
    new DOMPoint(x + dx * by, y + dy * by).matrixTransform(matrix);
  const start = at(-found.actualBoundingBoxLeft - shift, -found.actualBoundingBoxAscent);
  const end = at(found.actualBoundingBoxRight - shift, found.actualBoundingBoxDescent);
  // Words and marks of several fonts: their own box is near enough across.
  const box = element.querySelector('tspan') === null ? undefined : element.getBoundingClientRect();
  return {
    kind: kindOf(element),
    left: box?.left ?? start.x,
    right: box?.right ?? end.x,
    top: start.y,
    bottom: end.y,
    owner: element.closest('.vf-stavenote'),
  };
};

/** The lines of first- and second-time bars. */
const inkOfLine = (element: Element): Ink => {
  const { left, right, top, bottom } = element.getBoundingClientRect();
  return { kind: 'ending', left, right, top, bottom, owner: element.closest('.ending') };
};

/** Less than this is no collision: edges of ink are soft. */
const TOUCH = 0.6;

const overlap = (a: Ink, b: Ink): boolean =>
  Math.min(a.right, b.right) - Math.max(a.left, b.left) > TOUCH &&
  Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > TOUCH;

/** Pairs that belong together may touch: a flag and its head's dot box, two digits of a metre. */
const mayTouch = (a: Ink, b: Ink): boolean => {
  if (a.kind === b.kind && ['clef', 'key signature', 'time signature', 'swing sign'].includes(a.kind))
    return true;
  if (a.owner === null || a.owner !== b.owner) return false;
  // Its line and its uprights meet at corners; its number meets neither.
  if (a.kind === 'ending') return isThin(a) && isThin(b);
  // Heads of a second share the stem; a flag hangs from its own note.
  return (a.kind === 'head' && b.kind === 'head') || a.kind === 'flag' || b.kind === 'flag';
};

const isThin = (ink: Ink): boolean => Math.min(ink.right - ink.left, ink.bottom - ink.top) < 4;

const shown = (ink: Ink): string =>
  `${ink.kind} at ${String(Math.round(ink.left))},${String(Math.round(ink.top))}`;

/** What touches something else, or leaves the page; empty when all is clear. Throws nothing, draws nothing. */
export const inkOfPage = (host: HTMLElement): readonly string[] => {
  const page = host.getBoundingClientRect();
  const inks = [...host.querySelectorAll<SVGTextElement>('svg text')].flatMap(t => inkOfText(t) ?? []);
  inks.push(...[...host.querySelectorAll('.ending rect')].map(inkOfLine));
  const wrong: string[] = inks.length === 0 ? ['nothing is drawn'] : [];
  for (const line of host.querySelectorAll('svg path, svg circle, svg rect:not(.hit)')) {
    const box = line.getBoundingClientRect();
    if (
      box.left < page.left - 1 ||
      box.right > page.right + 1 ||
      box.top < page.top - 1 ||
      box.bottom > page.bottom + 1
    ) {
      wrong.push(`${line.parentElement?.getAttribute('class') ?? 'a line'} leaves the page`);
    }
  }
  inks.forEach((a, i) => {
    if (
      a.left < page.left - 1 ||
      a.right > page.right + 1 ||
      a.top < page.top - 1 ||
      a.bottom > page.bottom + 1
    ) {
      wrong.push(`${shown(a)} leaves the page`);
    }
    for (const b of inks.slice(i + 1)) {
      if (overlap(a, b) && !mayTouch(a, b)) wrong.push(`${shown(a)} meets ${shown(b)}`);
    }
  });
  return wrong;
};
