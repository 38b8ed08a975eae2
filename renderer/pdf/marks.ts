/** One step of an outline, in CSS pixels. */
export type PathStep =
  | readonly ['M', number, number]
  | readonly ['L', number, number]
  | readonly ['C', number, number, number, number, number, number]
  | readonly ['Z'];

/** An outline that is filled, stroked or both; colours as CSS hexadecimal (`#1f2a33`). */
export interface Shape {
  readonly kind: 'shape';
  readonly steps: readonly PathStep[];
  readonly fill?: string;
  readonly stroke?: string;
  /** Of the stroke, in CSS pixels. */
  readonly width: number;
}

/** How words look: the notation font, or the text font in one of its cuts. */
export type Lettering = 'notation' | 'plain' | 'bold' | 'italic';

/** Words in one hand and size, from their left end. */
export interface Words {
  readonly kind: 'words';
  readonly x: number;
  /** Baseline. */
  readonly y: number;
  readonly text: string;
  readonly hand: Lettering;
  /** In CSS pixels. */
  readonly size: number;
  readonly fill: string;
}

/** What stands on paper, the same for PDF and pictures. */
export type Mark = Shape | Words;

export const INK = '#000000';

/** A mark somewhere else. */
export const moved = (mark: Mark, dx: number, dy: number): Mark =>
  mark.kind === 'words'
    ? { ...mark, x: mark.x + dx, y: mark.y + dy }
    : {
        ...mark,
        steps: mark.steps.map(step =>
          transformed(
            step,
            x => x + dx,
            y => y + dy,
          ),
        ),
      };

/** A step with each of its places put elsewhere. */
export const transformed = (step: PathStep, x: (x: number) => number, y: (y: number) => number): PathStep => {
  switch (step[0]) {
    case 'Z':
      return step;
    case 'C':
      return ['C', x(step[1]), y(step[2]), x(step[3]), y(step[4]), x(step[5]), y(step[6])];
    default:
      return [step[0], x(step[1]), y(step[2])];
  }
};

/** A box, filled. */
export const box = (x: number, y: number, width: number, height: number, fill = INK): Shape => ({
  kind: 'shape',
  steps: boxSteps(x, y, width, height),
  fill,
  width: 0,
});

export const boxSteps = (x: number, y: number, width: number, height: number): readonly PathStep[] => [
  ['M', x, y],
  ['L', x + width, y],
  ['L', x + width, y + height],
  ['L', x, y + height],
  ['Z'],
];

/** A quarter of a circle as a cubic curve reaches this share of the radius along its tangents (4/3 · tan(π/8)). */
const KAPPA = 0.5523;

export const circleSteps = (x: number, y: number, r: number): readonly PathStep[] => {
  const k = r * KAPPA;
  return [
    ['M', x + r, y],
    ['C', x + r, y + k, x + k, y + r, x, y + r],
    ['C', x - k, y + r, x - r, y + k, x - r, y],
    ['C', x - r, y - k, x - k, y - r, x, y - r],
    ['C', x + k, y - r, x + r, y - k, x + r, y],
    ['Z'],
  ];
};

/** How many numbers follow each command of an outline that we read. */
const TAKES: Readonly<Record<string, number>> = { M: 2, L: 2, Q: 4, C: 6, Z: 0 };

/**
 * The outline in an SVG path of absolute M, L, Q, C and Z, which is all the page and its fonts make;
 * undefined for any other, so that nothing is left out unseen.
 */
export const stepsOfPath = (d: string): readonly PathStep[] | undefined => {
  const out: PathStep[] = [];
  let x = 0;
  let y = 0;
  for (const [, command = '', rest = ''] of d.matchAll(/([A-DF-Za-df-z])([^A-DF-Za-df-z]*)/g)) {
    const takes = TAKES[command];
    const numbers = (rest.match(/-?(?:\d+\.?\d*|\.\d+)(?:e-?\d+)?/g) ?? []).map(Number);
    if (takes === undefined || numbers.length % Math.max(1, takes) !== 0) return undefined;
    if (command === 'Z') {
      out.push(['Z']);
      continue;
    }
    for (let i = 0; i < numbers.length; i += takes) {
      const [a = 0, b = 0, c = 0, e = 0, f = 0, g = 0] = numbers.slice(i, i + takes);
      // Numbers that go on after a move are lines (SVG 2, 9.3.3).
      if (command === 'M') out.push([i === 0 ? 'M' : 'L', a, b]);
      else if (command === 'L') out.push(['L', a, b]);
      else if (command === 'C') out.push(['C', a, b, c, e, f, g]);
      // A quadratic curve as the cubic that is the same curve.
      else out.push(['C', third(x, a), third(y, b), third(c, a), third(e, b), c, e]);
      [x, y] = command === 'Q' ? [c, e] : command === 'C' ? [f, g] : [a, b];
    }
  }
  return out;
};

const third = (end: number, control: number): number => end + (2 / 3) * (control - end);
