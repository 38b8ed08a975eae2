import type { ScorePart, ScoreSymbol } from '../../core/score/score.ts';
import { lastBefore } from './lastBefore.ts';
import { inkOf, stemDirections, stepsOf, tupletSide } from './stems.ts';
import { svg } from './svg.ts';

/** Where a slur begins or ends: the bar of the system and the symbol; undefined where it runs over its edge. */
interface End {
  readonly bar: number;
  readonly symbol: number;
}

/** A slur as far as it lies in a system, in stave units from the top line. */
export interface SlurShape {
  readonly from: End | undefined;
  readonly to: End | undefined;
  readonly over: boolean;
  readonly startY: number;
  readonly endY: number;
  /** Both inner points of its curve. */
  readonly bendY: number;
  /** How far it reaches. */
  readonly reach: number;
}

/** Air between a note and the end of a slur, and between the notes under it and its curve. */
const AIR = 5;
const LEAST_BEND = 9;
const TUPLET = 27;

interface Note {
  readonly place: End;
  readonly top: number;
  readonly bottom: number;
  readonly up: boolean;
  readonly slur: 'start' | 'stop' | undefined;
}

/** How far the notes of a bar reach, a tuplet's number included, without a fermata. */
const notesIn = (part: ScorePart, index: number, b: number): readonly Note[] => {
  const bar = part.bars[index];
  if (bar === undefined) return [];
  const plain = { ...bar, symbols: bar.symbols.map(({ fermata: _, dead: __, ...symbol }) => symbol) };
  const directions = stemDirections(plain, part.clef);
  const ink = inkOf(plain, part.clef, directions);
  return bar.symbols.flatMap((symbol, i) => {
    const span = ink[i];
    if (symbol.pitches.length === 0 || span === undefined) return [];
    const members = bar.symbols.flatMap((s, k) =>
      s.tuplet !== undefined && s.tuplet === symbol.tuplet ? [k] : [],
    );
    const numbered = members.length === 0 ? undefined : tupletSide(members, directions);
    const heads = stepsOf(symbol, part.clef).map(step => 20 - step * 5);
    return [
      {
        place: { bar: b, symbol: i },
        top: Math.min(span.top, ...heads) - (numbered === 'over' ? TUPLET : 0),
        bottom: Math.max(span.bottom, ...heads) + (numbered === 'under' ? TUPLET : 0),
        up: directions[i] === 'up',
        slur: symbol.slur,
      },
    ];
  });
};

const shapeOf = (notes: readonly Note[], begins: boolean, ends: boolean): SlurShape | undefined => {
  const first = notes[0];
  const last = notes.at(-1);
  if (first === undefined || last === undefined) return undefined;
  // At the heads where all stems point up, else over the notes (common practice, no source).
  const over = !notes.every(note => note.up);
  const away = over ? -1 : 1;
  const edge = (note: Note): number => (over ? note.top : note.bottom) * away;
  // Counted outwards from here on.
  const start = edge(first) + AIR;
  const end = edge(last) + AIR;
  const outermost = Math.max(...notes.map(edge));
  const middle = (start + end) / 2;
  const bend = Math.max((outermost + AIR - 0.25 * middle) / 0.75, Math.max(start, end) + LEAST_BEND);
  const reach = 0.25 * middle + 0.75 * bend;
  return {
    from: begins ? first.place : undefined,
    to: ends ? last.place : undefined,
    over,
    startY: start * away,
    endY: end * away,
    bendY: bend * away,
    reach: reach * away,
  };
};

const isSlur = (symbol: ScoreSymbol): boolean => symbol.slur !== undefined;

/** The slurs of a part in a system of so many bars; one that runs over its edge is open there. */
export const slursIn = (part: ScorePart, first: number, count: number): readonly SlurShape[] => {
  const before = lastBefore(part, first, isSlur)?.slur;
  const bars = part.bars.slice(first, first + count);
  if (before !== 'start' && !bars.some(bar => bar.symbols.some(isSlur))) return [];
  const notes = Array.from({ length: count }, (_, b) => notesIn(part, first + b, b)).flat();
  const out: SlurShape[] = [];
  let open: Note[] | undefined = before === 'start' ? [] : undefined;
  let begins = false;
  for (const note of notes) {
    if (note.slur === 'start') {
      open = [];
      begins = true;
    }
    open?.push(note);
    if (note.slur === 'stop' && open !== undefined) {
      out.push(...[shapeOf(open, begins, true)].flatMap(shape => shape ?? []));
      open = undefined;
      begins = false;
    }
  }
  if (open !== undefined) out.push(...[shapeOf(open, begins, false)].flatMap(shape => shape ?? []));
  return out;
};

/** A slur drawn from one place to another, thicker in its middle. */
export const slurPath = (shape: SlurShape, x1: number, x2: number, top: number): SVGElement => {
  const n = (value: number): string => value.toFixed(2);
  const away = shape.over ? -1 : 1;
  const [y1, y2, bend] = [top + shape.startY, top + shape.endY, top + shape.bendY];
  const lean = Math.min(40, (x2 - x1) * 0.3);
  const [a, b] = [x1 + lean, x2 - lean];
  const inner = bend - away * 2.6;
  return svg('path', {
    class: 'slur',
    d: `M${n(x1)} ${n(y1)}C${n(a)} ${n(bend)} ${n(b)} ${n(bend)} ${n(x2)} ${n(y2)}C${n(b)} ${n(inner)} ${n(a)} ${n(inner)} ${n(x1)} ${n(y1)}Z`,
    fill: 'black',
    stroke: 'none',
  });
};

/** Half the height of an open hairpin. */
const OPEN = 6;

/**
 * A hairpin: two lines that part or meet.
 * @param shares how far open it is at both ends, 0 to 1
 */
export const hairpinPath = (
  x1: number,
  x2: number,
  y: number,
  shares: readonly [number, number],
  weight: number,
): SVGElement => {
  const n = (value: number): string => value.toFixed(2);
  const [from, to] = [shares[0] * OPEN, shares[1] * OPEN];
  const line = (side: 1 | -1): string => `M${n(x1)} ${n(y + side * from)}L${n(x2)} ${n(y + side * to)}`;
  return svg('path', {
    class: 'hairpin',
    d: `${line(-1)}${line(1)}`,
    fill: 'none',
    stroke: 'black',
    'stroke-width': 1.4 * weight,
  });
};
