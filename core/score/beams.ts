import { add, atMost, type Fraction, less, subtract, ZERO } from '../foundation/fraction.ts';
import { barLength, beatLengths, isCompound, type Metre } from '../foundation/metre.ts';
import type { ScoreSymbol } from './score.ts';

const flagged = (symbol: ScoreSymbol): boolean => symbol.pitches.length > 0 && symbol.value.base >= 8;

const flaggedQuaver = (symbol: ScoreSymbol | undefined): boolean =>
  symbol?.value.base === 8 && symbol.pitches.length > 0;

/** Places from the barline where a beam must end: every beat. */
const beatEdges = (m: Metre): Fraction[] => {
  let at: Fraction = ZERO;
  return beatLengths(m).map(length => (at = add(at, length)));
};

/** Places where a beam of plain quavers may run to: half bars in 4/4, the bar in 2/4 and 3/4. */
const wideEdges = (m: Metre): Fraction[] => {
  const edges = beatEdges(m);
  if (isCompound(m) || m.groups !== undefined || m.unit !== 4) return edges;
  if (m.beats === 4) return [edges[1], edges[3]].filter(e => e !== undefined);
  if (m.beats === 2 || m.beats === 3) return [barLength(m)];
  return edges;
};

/**
 * Beamed groups of a bar, as indices. Beams never cross the middle of 4/4; with semiquavers or
 * tuplets every beat shows; 3/4 by beat or the whole bar, never 3+3; compound metres by dotted
 * beat (published notation guides, facts.md).
 * @param barAt place of the barline the symbols' places are measured against
 */
export const beamGroups = (
  m: Metre,
  barAt: Fraction,
  symbols: readonly ScoreSymbol[],
): readonly (readonly number[])[] => {
  const local = (i: number): Fraction => subtract(symbols[i]?.at ?? ZERO, barAt);
  const groups: number[][] = [];
  let start: Fraction = ZERO;
  const narrow = beatEdges(m);
  for (const edge of wideEdges(m)) {
    const members = symbols.map((_, i) => i).filter(i => atMost(start, local(i)) && less(local(i), edge));
    const plain = members.every(i => {
      const symbol = symbols[i];
      return symbol !== undefined && symbol.value.base <= 8 && symbol.tuplet === undefined;
    });
    const allQuavers = members.every(i => flaggedQuaver(symbols[i]));
    const wide = plain && (m.beats !== 3 || allQuavers);
    const edges = wide ? [edge] : narrow.filter(e => less(start, e) && atMost(e, edge));
    let from = start;
    for (const to of edges) {
      groups.push(
        ...runs(
          members.filter(i => atMost(from, local(i)) && less(local(i), to)),
          symbols,
        ),
      );
      from = to;
    }
    start = edge;
  }
  return groups;
};

/** Runs of at least two neighbouring flagged symbols. */
const runs = (members: readonly number[], symbols: readonly ScoreSymbol[]): number[][] => {
  const out: number[][] = [];
  let run: number[] = [];
  for (const i of members) {
    const symbol = symbols[i];
    if (symbol !== undefined && flagged(symbol)) run.push(i);
    else {
      out.push(run);
      run = [];
    }
  }
  out.push(run);
  return out.filter(group => group.length > 1);
};
