import { type Fraction, subtract, toNumber } from '../../core/foundation/fraction.ts';
import { isDoubleAfter } from '../../core/score/barline.ts';
import { signatureChange } from '../../core/score/keyAt.ts';
import type { GracePitch, Score, ScoreBar, ScorePart, ScoreSymbol } from '../../core/score/score.ts';
import {
  BLACK_HEAD,
  DOT_WIDTH,
  FLAG_WIDTH,
  GRACE_WIDTH,
  headWidthOf,
  restWidthOf,
  signWidthOf,
} from './glyphs.ts';
import { glissRoom } from './glissandi.ts';
import { metreAt, metreChange } from '../../core/score/metreAt.ts';
import { metreSignsWidth } from './metreSigns.ts';
import { keySignsWidth } from './keySigns.ts';
import { type StemDirection, stemDirections, stepsOf } from './stems.ts';
import { startsAtHead, textWidth, type Under, underText } from './under.ts';

/** What stands at one place of a bar, in every part. All in stave units, ten to a stave space. */
export interface Column {
  /** From the first full barline, in semibreves. */
  readonly at: number;
  /** Room it asks for up to the next, by its time. */
  readonly ideal: number;
  /** By part; undefined where the part has nothing here. */
  readonly boxes: readonly (Box | undefined)[];
}

/** Reach to the left and right of the left edge of the heads; text apart, for it stands lower. */
interface Box {
  readonly left: number;
  readonly right: number;
  readonly textLeft: number;
  readonly textRight: number;
}

/** A bar ready to be spaced. */
export interface BarColumns {
  readonly columns: readonly Column[];
  /** Room before the first column, after the barline. */
  readonly lead: number;
  /** Room for a new key signature before that, unless the bar begins a system, which has it in its head. */
  readonly signs: number;
  /** Room for the end of a glissando's line, where it comes from the system before; 0 where none ends at once. */
  readonly runIn: number;
  /** Room an empty bar asks for. */
  readonly empty: number;
  /** Room between the last ink and the end of the bar, a final or repeat barline in it. */
  readonly trail: number;
}

/** Columns of one bar at a stretch: the left edges of the heads from the barline, and its width. */
export interface SpacedBar {
  readonly xs: readonly number[];
  /** Room taken by a new key signature at its beginning; 0 where there is none. */
  readonly signs: number;
  readonly width: number;
}

/** How far the strokes of a roll reach over the side of a head. */
const ROLL_SIDE = 6;
/** How far a tie that leads nowhere reaches beside a head. */
const RING_SIDE = 19;
const LEAD = 14;
/** What a line that ends at once needs beyond that, not to begin in the clef. */
const RUN_IN = 10;
const TRAIL = 9;
const GAP = 3;
const TEXT_GAP = 5;

/** Room by time: twice the length takes about one and a half times the room (common practice, no source). */
const roomFor = (semibreves: number): number => 28 * Math.max(1 / 8, semibreves * 8) ** 0.56;

/** Two heads a step apart share a stem, one on each side of it. */
const hasSecond = (steps: readonly number[]): boolean =>
  steps.some((step, i) => i > 0 && step - (steps[i - 1] ?? -99) === 1);

const signsRoom = (symbol: ScoreSymbol): number => {
  const widths = symbol.pitches.flatMap(p =>
    p.accidental === undefined ? [] : [signWidthOf(p.accidental, p.cautionary === true)],
  );
  return widths.reduce((a, b) => a + b, 0);
};

/** How far grace notes reach before a head. */
const graceReach = (symbol: ScoreSymbol): number => {
  const roomOf = (stroke: readonly GracePitch[]): number =>
    stroke.reduce((so, g) => Math.max(so, GRACE_WIDTH + (g.accidental === undefined ? 0 : 10)), 0);
  return [...(symbol.ruff ?? []).map(g => [g]), symbol.grace ?? []].reduce(
    (so, stroke) => so + roomOf(stroke),
    0,
  );
};

/** How far the signs and grace notes of a symbol, and the second of a chord, reach before its heads. */
export const reachBefore = (
  symbol: ScoreSymbol,
  part: ScorePart,
  direction: StemDirection | undefined,
): number => {
  const second = hasSecond(stepsOf(symbol, part.clef)) ? BLACK_HEAD : 0;
  const strokes = symbol.roll === true && symbol.value.base > 1 ? ROLL_SIDE : 0;
  return signsRoom(symbol) + graceReach(symbol) + (direction === 'down' ? Math.max(second, strokes) : 0);
};

const boxOf = (
  symbol: ScoreSymbol,
  part: ScorePart,
  direction: StemDirection | undefined,
  beamed: boolean,
  texts: readonly string[],
): Box => {
  const rest = symbol.pitches.length === 0;
  const head = rest ? restWidthOf(symbol.value.base) : headWidthOf(symbol.value.base);
  const second = !rest && hasSecond(stepsOf(symbol, part.clef)) ? BLACK_HEAD : 0;
  const flag = !rest && !beamed && symbol.value.base >= 8 && direction === 'up' ? FLAG_WIDTH : 0;
  const dots = symbol.value.dots * DOT_WIDTH + (symbol.value.dots > 0 ? 3 : 0);
  const strokes = symbol.roll === true && symbol.value.base > 1 ? ROLL_SIDE : 0;
  const lines = glissRoom(symbol);
  const middle = head / 2;
  const dynamic = symbol.dynamic === undefined ? 0 : 8 + 8 * symbol.dynamic.length;
  const wide = texts.map(text => {
    const width = textWidth(text);
    return startsAtHead(text)
      ? { left: 0, right: width }
      : { left: width / 2 - middle, right: width / 2 + middle };
  });
  return {
    left: reachBefore(symbol, part, direction),
    right:
      head +
      (direction === 'up' ? second : 0) +
      Math.max(
        flag,
        direction === 'up' ? strokes : 0,
        dots + (flag > 0 ? 4 : 0),
        symbol.ring === true ? dots + RING_SIDE : 0,
        lines > 0 ? dots + lines : 0,
      ),
    textLeft: Math.max(0, dynamic / 2 - middle, ...wide.map(w => w.left)),
    textRight: Math.max(0, dynamic / 2 + middle, ...wide.map(w => w.right)),
  };
};

const endsAtOnce = (bar: ScoreBar | undefined): boolean =>
  bar?.symbols[0]?.pitches.some(pitch => pitch.endsGliss === true) === true;

const keyOf = (at: Fraction): string => `${String(at.n)}/${String(at.d)}`;

/** The columns of bar `index`: every place where any part has a note or rest. */
export const columnsOf = (score: Score, index: number, under: readonly Under[]): BarColumns => {
  const places = new Map<string, { at: Fraction; boxes: (Box | undefined)[] }>();
  let bar: ScoreBar | undefined;
  score.parts.forEach((part, p) => {
    const own = part.bars[index];
    if (own === undefined) return;
    bar ??= own;
    const directions = stemDirections(own, part.clef);
    own.symbols.forEach((symbol, i) => {
      if (symbol.wholeBar === true) return;
      const key = keyOf(symbol.onset);
      const place = places.get(key) ?? { at: symbol.onset, boxes: score.parts.map(() => undefined) };
      const beamed = own.beams.some(group => group.includes(i));
      const texts = under.map(row => underText(row, metreAt(score, index), own, symbol));
      place.boxes[p] = boxOf(symbol, part, directions[i], beamed, texts);
      places.set(key, place);
    });
  });
  const sorted = [...places.values()].sort((a, b) => toNumber(a.at) - toNumber(b.at));
  const end = bar === undefined ? 0 : toNumber(bar.start) + toNumber(bar.length);
  const opens = score.repeats?.some(r => r.bar === index) === true;
  const closes = score.repeats?.some(r => r.bar + r.bars - 1 === index) === true;
  return {
    columns: sorted.map(({ at, boxes }, i) => {
      const next = sorted[i + 1];
      const time = next === undefined ? end - toNumber(at) : toNumber(subtract(next.at, at));
      return { at: toNumber(at), ideal: roomFor(time), boxes };
    }),
    lead: LEAD + (opens ? 22 : 0),
    runIn: score.parts.some(part => endsAtOnce(part.bars[index])) ? RUN_IN : 0,
    signs: keySignsWidth(signatureChange(score, index)) + metreSignsWidth(metreChange(score, index)),
    // A long rest is wider than an empty bar, but far narrower than the bars it stands for.
    empty: bar?.restBars === undefined ? 64 : 110,
    trail: TRAIL + (closes ? 14 : index === score.barCount - 1 ? 8 : isDoubleAfter(score, index) ? 5 : 0),
  };
};

/**
 * Places the columns of a bar: each after the room its time asks for times `stretch`, never touching.
 * @param heads whether it begins a system
 */
export const spaceBar = (bar: BarColumns, stretch: number, heads = false): SpacedBar => {
  const signs = heads ? 0 : bar.signs;
  const lead = bar.lead + signs + (heads ? bar.runIn : 0);
  const xs: number[] = [];
  const parts = bar.columns[0]?.boxes.length ?? 0;
  const edges = Array.from({ length: parts }, () => lead - GAP);
  const textEdges = Array.from({ length: parts }, () => lead - LEAD - TEXT_GAP);
  let x = lead;
  bar.columns.forEach((column, i) => {
    const before = bar.columns[i - 1];
    if (before !== undefined) x += before.ideal * stretch;
    column.boxes.forEach((box, p) => {
      if (box === undefined) return;
      const edge = edges[p] ?? lead - GAP;
      const textEdge = textEdges[p] ?? lead - LEAD - TEXT_GAP;
      x = Math.max(x, edge + GAP + box.left, textEdge + TEXT_GAP + box.textLeft);
    });
    column.boxes.forEach((box, p) => {
      if (box === undefined) return;
      edges[p] = x + box.right;
      textEdges[p] = x + box.textRight;
    });
    xs.push(x);
  });
  const last = bar.columns.at(-1);
  const afterLast = last === undefined ? bar.empty * Math.max(0.6, stretch) + lead : x + last.ideal * stretch;
  // flatMap leaves out parts that have nothing in this bar.
  const inkEnd = Math.max(0, ...edges.flatMap(e => e + bar.trail), ...textEdges.flatMap(e => e + 1));
  return { xs, signs, width: Math.max(afterLast + (bar.trail - TRAIL), inkEnd) };
};
