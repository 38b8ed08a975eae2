import { staffPosition } from '../../core/foundation/pitch.ts';
import type { ScoreBar, ScorePart, ScoreSymbol } from '../../core/score/score.ts';
import { glissReach } from './glissandi.ts';

export type StemDirection = 'up' | 'down';

/** Steps above (+) or below (−) the middle line of the stave, lowest first. */
export const stepsOf = (symbol: ScoreSymbol, clef: ScorePart['clef']): readonly number[] => {
  const middle = clef === 'bass' ? 22 : 34; // D3 and B4 in steps from C0
  return symbol.pitches.map(p => staffPosition(p.spelled) - middle).sort((a, b) => a - b);
};

/**
 * The note farthest from the middle line decides; where two are as far, the side with more notes;
 * else down (common practice, no source).
 */
export const directionFor = (steps: readonly number[]): StemDirection => {
  const high = Math.max(...steps);
  const low = Math.min(...steps);
  if (high !== -low) return high > -low ? 'down' : 'up';
  const above = steps.filter(s => s > 0).length;
  const below = steps.filter(s => s < 0).length;
  return below > above ? 'up' : 'down';
};

/** The direction of every stem of a bar; those under one beam agree. Undefined for rests. */
export const stemDirections = (
  bar: ScoreBar,
  clef: ScorePart['clef'],
): readonly (StemDirection | undefined)[] => {
  const out = bar.symbols.map(symbol =>
    symbol.pitches.length === 0 ? undefined : directionFor(stepsOf(symbol, clef)),
  );
  for (const group of bar.beams) {
    const all = group.flatMap(i => {
      const symbol = bar.symbols[i];
      return symbol === undefined ? [] : stepsOf(symbol, clef);
    });
    const direction = directionFor(all);
    for (const i of group) out[i] = direction;
  }
  return out;
};

/** Ink of a symbol in stave units: 0 is the top line, 40 the bottom line, downwards. */
export interface InkSpan {
  readonly top: number;
  readonly bottom: number;
}

const STEM = 35;
/** How far the strokes of a roll reach over a semibreve. */
export const ROLL_OVER = 27;
/**
 * How much longer the stem of a rolled note is: so that its strokes stand clear of the head (Gould, Behind Bars,
 * Tremolos: from memory), and of a flag where there is one.
 */
export const ROLL_STEM = { plain: 9, flagged: 24 } as const;
/** By how much the stem of a rolled note is longer than another's; 0 under a beam, whose stems follow the beam. */
export const rollStem = (bar: ScoreBar, index: number): number => {
  const symbol = bar.symbols[index];
  if (symbol?.roll !== true || symbol.value.base === 1) return 0;
  if (bar.beams.some(group => group.includes(index))) return 0;
  return symbol.value.base >= 8 ? ROLL_STEM.flagged : ROLL_STEM.plain;
};
const yOf = (step: number): number => 20 - step * 5;

/** About how far each symbol of a bar reaches up and down, stems and beams included. */
export const inkOf = (
  bar: ScoreBar,
  clef: ScorePart['clef'],
  directions: readonly (StemDirection | undefined)[] = stemDirections(bar, clef),
): readonly InkSpan[] => {
  const alone = bar.symbols.map((symbol, i): InkSpan => {
    if (symbol.pitches.length === 0) return { top: 5, bottom: 35 };
    const steps = stepsOf(symbol, clef);
    const high = yOf(Math.max(...steps));
    const low = yOf(Math.min(...steps));
    if (symbol.value.base === 1)
      return { top: high - 5 - (symbol.roll === true ? ROLL_OVER : 0), bottom: low + 5 };
    const stem = STEM + Math.max(0, Math.log2(symbol.value.base) - 4) * 8 + rollStem(bar, i);
    const graceTop = Math.min(
      ...[...(symbol.ruff ?? []), ...(symbol.grace ?? [])].map(
        g => yOf(staffPosition(g) - (clef === 'bass' ? 22 : 34)) - 28,
      ),
    );
    return directions[i] === 'up'
      ? { top: Math.min(high - stem, 20, graceTop), bottom: low + 5 }
      : { top: Math.min(high - 5, graceTop), bottom: Math.max(low + stem, 20) };
  });
  const out = [...alone];
  for (const group of bar.beams) {
    const up = directions[group[0] ?? 0] === 'up';
    const spans = group.flatMap(i => alone[i] ?? []);
    // A beam may stand a little further out than its longest stem, to meet the lines well.
    const top = Math.min(...spans.map(s => s.top)) - 5;
    const bottom = Math.max(...spans.map(s => s.bottom)) + 5;
    for (const i of group) {
      const span = alone[i];
      if (span !== undefined) out[i] = up ? { ...span, top } : { ...span, bottom };
    }
  }
  const tied = out.map((span, i) =>
    withLines(withTies(span, bar.symbols[i], clef, directions[i]), bar.symbols[i], clef),
  );
  const articulated = tied.map((span, i) => withArticulation(span, bar.symbols[i], clef, directions[i]));
  return articulated.map((span, i) =>
    signsOver(bar.symbols[i]) > 0
      ? {
          ...span,
          top: fermataY(bar, i, articulated, directions) - FERMATA_HEIGHT * signsOver(bar.symbols[i]),
        }
      : span,
  );
};

/** Height of a fermata, and of the sign of a dead stroke. */
export const FERMATA_HEIGHT = 14;
/** How many such signs stand over a symbol, a fermata over the other. */
const signsOver = (symbol: ScoreSymbol | undefined): number =>
  (symbol?.fermata === true ? 1 : 0) + (symbol?.dead === true ? 1 : 0);
/** A fermata is wider than its head, so it stands over the notes beside it too, and over a slur or a tuplet's number. */
const fermataY = (
  bar: ScoreBar,
  index: number,
  spans: readonly InkSpan[],
  directions: readonly (StemDirection | undefined)[],
): number => {
  const symbol = bar.symbols[index];
  const around = spans.slice(Math.max(0, index - 1), index + 2).map(span => span.top);
  const members = bar.symbols.flatMap((s, i) =>
    s.tuplet !== undefined && s.tuplet === symbol?.tuplet ? [i] : [],
  );
  const tuplet = members.length > 0 && tupletSide(members, directions) === 'over' ? 27 : 0;
  const slur = symbol?.slur === undefined ? 0 : 12;
  return Math.min(0, ...around) - tuplet - slur - 6;
};

/**
 * Where an articulation stands, from the top line of the stave: the nearest edge of the sign.
 * @param under below the note (its stem points up)
 */
export const articulationY = (symbol: ScoreSymbol, clef: ScorePart['clef'], under: boolean): number => {
  const steps = stepsOf(symbol, clef);
  const away = under ? -1 : 1;
  const outer = (under ? Math.min(...steps) : Math.max(...steps)) * away; // counted outwards
  if (symbol.articulation === 'accent') return yOf(Math.max(outer + 2, 5.2) * away);
  const next = outer + 2;
  const inSpace = next <= 4 && next % 2 === 0 ? next + 1 : next;
  // A dot or bar fills about a quarter of its space.
  return yOf(inSpace * away) - away * -2;
};

const TIE_HEIGHT = 15;
/** Ties bow away from the stem; those of a chord to both sides. */
const withTies = (
  span: InkSpan,
  symbol: ScoreSymbol | undefined,
  clef: ScorePart['clef'],
  direction: StemDirection | undefined,
): InkSpan => {
  if (symbol === undefined || !(symbol.tiedFrom || symbol.tiedTo)) return span;
  const steps = stepsOf(symbol, clef);
  const chord = steps.length > 1;
  return {
    top: chord || direction === 'down' ? Math.min(span.top, yOf(Math.max(...steps)) - TIE_HEIGHT) : span.top,
    bottom:
      chord || direction === 'up' ? Math.max(span.bottom, yOf(Math.min(...steps)) + TIE_HEIGHT) : span.bottom,
  };
};

/** A line over bars, with its word and its end. */
const withLines = (span: InkSpan, symbol: ScoreSymbol | undefined, clef: ScorePart['clef']): InkSpan => {
  if (symbol === undefined) return span;
  const { top, bottom } = glissReach(symbol, clef);
  return { top: Math.min(span.top, top), bottom: Math.max(span.bottom, bottom) };
};

const ACCENT_HEIGHT = 11;
const withArticulation = (
  span: InkSpan,
  symbol: ScoreSymbol | undefined,
  clef: ScorePart['clef'],
  direction: StemDirection | undefined,
): InkSpan => {
  if (symbol?.articulation === undefined) return span;
  const y = articulationY(symbol, clef, direction === 'up');
  return direction === 'up'
    ? { ...span, bottom: Math.max(span.bottom, y + ACCENT_HEIGHT) }
    : { ...span, top: Math.min(span.top, y - ACCENT_HEIGHT) };
};

/** Whether a tuplet's number and bracket stand over (the beam or most stems point up) or under its notes. */
export const tupletSide = (
  members: readonly number[],
  directions: readonly (StemDirection | undefined)[],
): 'over' | 'under' => {
  const down = members.filter(i => directions[i] === 'down').length;
  return down * 2 > members.filter(i => directions[i] !== undefined).length ? 'under' : 'over';
};
