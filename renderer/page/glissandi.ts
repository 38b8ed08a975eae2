import { midiOf, type Spelled, staffPosition } from '../../core/foundation/pitch.ts';
import type { ScorePart, ScoreSymbol, WrittenPitch } from '../../core/score/score.ts';
import { DOT_WIDTH, headWidthOf, signWidthOf } from './glyphs.ts';
import { lastBefore } from './lastBefore.ts';
import { bar as line, NOTATION, SANS, svg, text } from './svg.ts';

/** Where the symbols of a stave stand in a system, in stave units. */
export interface StaveHeads {
  readonly part: ScorePart;
  readonly first: number;
  readonly count: number;
  /** Its top line. */
  readonly top: number;
  readonly left: number;
  readonly right: number;
  /** Left edge of the head of every symbol, bar by bar. */
  readonly heads: readonly (readonly number[])[];
  /** Where its bars meet. */
  readonly barlines: readonly number[];
  readonly weight: number;
}

/** Shortest line, so that its word has room, and the air at its ends. */
const LEAST_LINE = 46;
const AIR = 4;
/** The word beside the line: its size, and about how wide it is. */
const WORD_SIZE = 13;
const WORD_WIDTH = 30;
/** Shortest line that comes from the system before. */
const LEAST_RUN_IN = 14;
/** A small head in brackets where a line leads to no note (SMuFL's brackets of note heads), about so wide. */
const SMALL_END = '\ue0f5\ue0a4\ue0f6';
const SMALL_SIZE = 26;
const SMALL_WIDTH = 18;
const SMALL_SIGN: Readonly<Record<string, string>> = {
  '-2': '\ue264',
  '-1': '\ue260',
  '0': '\ue261',
  '1': '\ue262',
  '2': '\ue263',
};

const dotsOf = (symbol: ScoreSymbol): number =>
  symbol.value.dots > 0 ? symbol.value.dots * DOT_WIDTH + 3 : 0;

const smallSign = ({ smallEnd }: WrittenPitch): number =>
  smallEnd?.accidental === undefined ? 0 : (signWidthOf(smallEnd.accidental, false) * SMALL_SIZE) / 40;

/** Room that a line which begins or ends with a symbol asks for after its head and dots. */
export const glissRoom = (symbol: ScoreSymbol): number =>
  Math.max(
    0,
    ...symbol.pitches.map(
      pitch =>
        (pitch.gliss === undefined ? 0 : AIR + LEAST_LINE) +
        (pitch.smallEnd === undefined ? 0 : AIR + smallSign(pitch) + SMALL_WIDTH),
    ),
  );

/** Height of a pitch from the top line of its stave, downwards. */
const heightOf = (pitch: Spelled, clef: ScorePart['clef']): number =>
  20 - (staffPosition(pitch) - (clef === 'bass' ? 22 : 34)) * 5;

/** How far the lines of a symbol, their word and their ends reach beyond its own heads: up and down from the top line. */
export const glissReach = (
  symbol: ScoreSymbol,
  clef: ScorePart['clef'],
): { readonly top: number; readonly bottom: number } => {
  const reach = symbol.pitches.flatMap(({ spelled, gliss, smallEnd }) => {
    const y = heightOf(spelled, clef);
    const end = smallEnd === undefined ? [] : [heightOf(smallEnd, clef)];
    const word = gliss === undefined ? [] : heightOf(gliss.to, clef) <= y ? [y + 10] : [y - 10];
    return [...end, ...word].flatMap(at => [at - 7, at + 7]);
  });
  return { top: Math.min(Infinity, ...reach), bottom: Math.max(-Infinity, ...reach) };
};

/** A line as far as it lies in the system, from the top left of the page. */
interface Line {
  readonly x: number;
  readonly y: number;
  readonly to: Spelled;
  /** It comes from the system before. */
  readonly goesOn: boolean;
}

/** The left edge of a word that ends where a line does, or before a barline that would go through it. */
const wordLeft = (from: number, to: number, barlines: readonly number[]): number => {
  const left = to - WORD_WIDTH;
  const through = barlines.find(at => at > left - 2 && at < to + 2);
  const before = (through ?? Infinity) - WORD_WIDTH - 3;
  return through !== undefined && before >= from - 1 ? before : left;
};

const drawLine = (
  from: Line,
  x2: number,
  y2: number,
  { weight, barlines }: Pick<StaveHeads, 'weight' | 'barlines'>,
): SVGElement => {
  const group = svg('g', { class: 'gliss' });
  group.append(
    svg('path', {
      d: `M ${String(from.x)} ${String(from.y)} L ${String(x2)} ${String(y2)}`,
      fill: 'none',
      stroke: 'black',
      'stroke-width': 1.6 * weight,
    }),
  );
  // The word lies under a line that rises, and over one that falls, beside its end.
  const left = wordLeft(from.x, x2, barlines);
  const height = from.y + ((y2 - from.y) * (left - from.x)) / Math.max(1, x2 - from.x);
  const baseline = y2 <= from.y ? height + WORD_SIZE : height - 4;
  if (left >= from.x - 1 && !from.goesOn)
    group.append(
      text(left, baseline, 'gliss.', {
        class: 'gliss-word',
        'font-family': SANS,
        'font-size': WORD_SIZE,
        'font-style': 'italic',
      }),
    );
  return group;
};

/** A small head in brackets with its sign and ledger lines, its right edge at `right`. */
const drawSmallEnd = (pitch: WrittenPitch, end: Spelled, right: number, stave: StaveHeads): SVGElement => {
  const group = svg('g', { class: 'gliss-end' });
  const y = heightOf(end, stave.part.clef);
  const left = right - SMALL_WIDTH;
  const accidental = pitch.smallEnd?.accidental;
  for (let ledger = -10; ledger >= y; ledger -= 10)
    group.append(line(left + 2, stave.top + ledger - 0.7, SMALL_WIDTH - 4, 1.4 * stave.weight));
  for (let ledger = 50; ledger <= y; ledger += 10)
    group.append(line(left + 2, stave.top + ledger - 0.7, SMALL_WIDTH - 4, 1.4 * stave.weight));
  const sign = (x: number, content: string): SVGElement =>
    text(x, stave.top + y, content, { 'font-family': NOTATION, 'font-size': SMALL_SIZE });
  if (accidental !== undefined)
    group.append(sign(left - smallSign(pitch), SMALL_SIGN[String(accidental)] ?? ''));
  group.append(sign(left + 1, SMALL_END));
  return group;
};

/** What comes from the system before is short where its note comes soon: it slants, and never stands upright. */
const shortened = (from: Line, x: number, y: number): Line => ({
  ...from,
  x: Math.min(from.x, x - LEAST_RUN_IN),
  y: y + Math.max(-LEAST_RUN_IN, Math.min(LEAST_RUN_IN, from.y - y)),
});

const isGlissando = (symbol: ScoreSymbol): boolean =>
  symbol.pitches.some(p => p.gliss !== undefined || p.endsGliss === true || p.smallEnd !== undefined);

/** Lines that run on into a system from the one before. */
const runningIn = (stave: StaveHeads): Line[] => {
  const before = lastBefore(stave.part, stave.first, isGlissando);
  return (before?.pitches ?? []).flatMap(({ spelled, gliss, smallEnd }) => {
    if (gliss === undefined || smallEnd !== undefined) return [];
    const { clef } = stave.part;
    const middle = (heightOf(spelled, clef) + heightOf(gliss.to, clef)) / 2;
    return [{ x: stave.left, y: stave.top + middle, to: gliss.to, goesOn: true }];
  });
};

/** The lines of glissandi in a system; one that runs over its edge is half way there. */
export const glissandi = (
  stave: StaveHeads,
  leftReach: (bar: number, symbol: number) => number,
): SVGElement[] => {
  const { part, top } = stave;
  const drawn: SVGElement[] = [];
  let open = runningIn(stave);
  const close = (pitch: Spelled, x: number): void => {
    const ended = open.filter(one => midiOf(one.to) === midiOf(pitch));
    open = open.filter(one => !ended.includes(one));
    for (const one of ended) {
      const y = top + heightOf(pitch, part.clef);
      drawn.push(drawLine(one.goesOn ? shortened(one, x, y) : one, x, y, stave));
    }
  };
  part.bars.slice(stave.first, stave.first + stave.count).forEach((bar, b) => {
    bar.symbols.forEach((symbol, i) => {
      const left = stave.heads[b]?.[i] ?? stave.left;
      const after = left + headWidthOf(symbol.value.base) + dotsOf(symbol);
      for (const { spelled, endsGliss } of symbol.pitches)
        if (endsGliss === true) close(spelled, left - leftReach(b, i) - AIR);
      for (const { spelled, gliss } of symbol.pitches)
        if (gliss !== undefined)
          open.push({ x: after + AIR, y: top + heightOf(spelled, part.clef), to: gliss.to, goesOn: false });
      for (const pitch of symbol.pitches) {
        if (pitch.smallEnd === undefined) continue;
        // Before what comes next in its bar; before a barline as near as the line allows.
        const next = stave.heads[b]?.[i + 1];
        const least = after + glissRoom(symbol);
        const right = next === undefined ? least : Math.max(least, next - leftReach(b, i + 1) - AIR);
        drawn.push(drawSmallEnd(pitch, pitch.smallEnd, right, stave));
        close(pitch.smallEnd, right - SMALL_WIDTH - smallSign(pitch) - 1);
      }
    });
  });
  for (const one of open) {
    const end = top + heightOf(one.to, part.clef);
    drawn.push(drawLine(one, stave.right - AIR, one.goesOn ? end : (one.y + end) / 2, stave));
  }
  return drawn;
};
