import type { Fonts } from '../../renderer/pdf/fonts.ts';
import type { Mark, Shape, Words } from '../../renderer/pdf/marks.ts';

interface Reach {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const reachOfShape = (shape: Shape): Reach => {
  const places = shape.steps.flatMap(step => (step[0] === 'Z' ? [] : [[step[1], step[2]] as const]));
  const xs = places.map(p => p[0]);
  const ys = places.map(p => p[1]);
  // A thin line has no width but its stroke's.
  const half = shape.stroke === undefined ? 0 : shape.width / 2;
  return {
    left: Math.min(...xs) - half,
    right: Math.max(...xs) + half,
    top: Math.min(...ys) - half,
    bottom: Math.max(...ys) + half,
  };
};

/** The letters of words without their tails; ascenders of the text font reach about seven tenths of its size. */
const reachOfWords = (words: Words, fonts: Fonts): Reach => ({
  left: words.x,
  right: words.x + fonts.width(words.hand, words.size, words.text),
  top: words.y - 0.68 * words.size,
  bottom: words.y,
});

const meet = (a: Reach, b: Reach): Reach | undefined => {
  const both = {
    left: Math.max(a.left, b.left),
    right: Math.min(a.right, b.right),
    top: Math.max(a.top, b.top),
    bottom: Math.min(a.bottom, b.bottom),
  };
  return both.right - both.left > 0.3 && both.bottom - both.top > 0.3 ? both : undefined;
};

const holds = (outer: Reach, inner: Reach): boolean =>
  outer.left <= inner.left + 0.1 &&
  outer.right >= inner.right - 0.1 &&
  outer.top <= inner.top + 0.1 &&
  outer.bottom >= inner.bottom - 0.1;

const PAPER = '#ffffff';

/**
 * What crosses the names of statements (words in italics) on a page: lines and signs that were drawn before them and are
 * not covered by paper since, whatever was drawn after them, and other words.
 */
export const crossings = (
  marks: readonly Mark[],
  fonts: Fonts,
): { readonly crossed: readonly string[]; readonly cut: readonly string[]; readonly names: number } => {
  const reaches = marks.map(mark => (mark.kind === 'words' ? reachOfWords(mark, fonts) : reachOfShape(mark)));
  const crossed: string[] = [];
  const cut: string[] = [];
  let names = 0;
  marks.forEach((name, n) => {
    if (name.kind !== 'words' || name.hand !== 'italic') return;
    names += 1;
    if (name.text.includes('…')) cut.push(name.text);
    const own = reaches[n];
    marks.forEach((mark, m) => {
      const other = reaches[m];
      if (m === n || own === undefined || other === undefined) return;
      if (mark.kind === 'shape' && mark.fill === PAPER) return;
      const both = meet(own, other);
      if (both === undefined) return;
      const covered = marks.some(
        (paper, p) =>
          p > m && p < n && paper.kind === 'shape' && paper.fill === PAPER && holds(reaches[p] ?? both, both),
      );
      // Outlines of slurs and signs of the notation font may bow round words.
      if (!covered && isStraight(mark))
        crossed.push(`“${name.text}” by ${mark.kind === 'words' ? `“${mark.text}”` : 'a line'}`);
    });
  });
  return { crossed, cut, names };
};

const isStraight = (mark: Mark): boolean =>
  mark.kind === 'words' ? mark.hand !== 'notation' : mark.steps.every(step => step[0] !== 'C');
