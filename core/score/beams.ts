import {
  add,
  atMost,
  type Fraction,
  fraction,
  less,
  remainder,
  subtract,
  ZERO,
} from '../foundation/fraction.ts';
import { barLength, beatLengths, isCompound, type Metre } from '../foundation/metre.ts';
import type { ScoreBar, ScoreSymbol } from './score.ts';

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
  if (isCompound(m) || m.groups !== undefined || m.lower !== 4) return edges;
  if (m.upper === 4) return [edges[1], edges[3]].filter(e => e !== undefined);
  if (m.upper === 2 || m.upper === 3) return [barLength(m)];
  return edges;
};

/**
 * Beamed groups of a bar, as indices. Beams never cross the middle of 4/4; with semiquavers or
 * tuplets every beat shows; 3/4 by beat or the whole bar, never 3+3; compound metres by dotted
 * beat (Berklee's notation guides).
 * @param barAt place of the barline the symbols' places are measured against
 */
export const beamGroups = (
  m: Metre,
  barAt: Fraction,
  symbols: readonly ScoreSymbol[],
): readonly (readonly number[])[] => {
  const local = (i: number): Fraction => subtract(symbols[i]?.onset ?? ZERO, barAt);
  const groups: number[][] = [];
  let start: Fraction = ZERO;
  const narrow = beatEdges(m);
  const isBeat = (from: Fraction, to: Fraction): boolean => !narrow.some(e => less(from, e) && less(e, to));
  for (const edge of wideEdges(m)) {
    const members = symbols.map((_, i) => i).filter(i => atMost(start, local(i)) && less(local(i), edge));
    const plain = members.every(i => {
      const symbol = symbols[i];
      return symbol !== undefined && symbol.value.base <= 8 && symbol.tuplet === undefined;
    });
    const allQuavers = members.every(i => flaggedQuaver(symbols[i]));
    const wide = plain && (m.upper !== 3 || allQuavers);
    const edges = wide ? [edge] : narrow.filter(e => less(start, e) && atMost(e, edge));
    let from = start;
    for (const to of edges) {
      groups.push(
        ...runs(
          members.filter(i => atMost(from, local(i)) && less(local(i), to)),
          symbols,
          isBeat(from, to),
        ),
      );
      from = to;
    }
    start = edge;
  }
  return groups;
};

/**
 * Runs of flagged symbols, at least two notes each. Inside one beat a beam carries on over rests
 * that take no more than half of it (common practice, no source); rests themselves are no members.
 */
const runs = (
  members: readonly number[],
  symbols: readonly ScoreSymbol[],
  overRests: boolean,
): number[][] => {
  const out: number[][] = [];
  let run: number[] = [];
  let rests: number[] = [];
  for (const i of members) {
    const symbol = symbols[i];
    const short = symbol !== undefined && symbol.value.base >= 8;
    if (short && symbol.pitches.length > 0) {
      run.push(i);
      rests = [];
    } else if (short && overRests && run.length > 0 && rests.length === 0) rests.push(i);
    else {
      out.push(run);
      run = [];
      rests = [];
    }
  }
  out.push(run);
  return out.filter(group => group.length > 1);
};

const membersOf = (bar: ScoreBar, group: readonly number[]): readonly ScoreSymbol[] =>
  group.flatMap(i => bar.symbols[i] ?? []);

/** Whether a symbol begins a whole number of these lengths after the first of its beam. */
const wholeAfter = (first: ScoreSymbol, symbol: ScoreSymbol, length: Fraction): boolean =>
  remainder(subtract(symbol.onset, first.onset), length).n === 0;

/**
 * Members of a beamed group after which only the first beam goes on: with demisemiquavers the
 * quavers of a beat show (common practice, no source). As indices into the bar's symbols.
 */
export const secondaryBreaks = (bar: ScoreBar, group: readonly number[]): readonly number[] => {
  const [first, ...later] = membersOf(bar, group);
  const fine = [first, ...later].some(s => s !== undefined && s.value.base >= 32 && s.tuplet === undefined);
  if (first === undefined || !fine) return [];
  return later.flatMap((symbol, i) => (wholeAfter(first, symbol, fraction(1, 8)) ? (group[i] ?? []) : []));
};

/**
 * Which way the stub of a short note inside a beam points: to the note it shares a longer value
 * with, so back where it completes one and on where it begins one.
 */
export const hookSide = (bar: ScoreBar, index: number): 'left' | 'right' => {
  const group = bar.beams.find(g => g.includes(index)) ?? [];
  const members = membersOf(bar, group);
  const [first] = members;
  const symbol = bar.symbols[index];
  if (first === undefined || symbol === undefined || symbol === first) return 'right';
  if (symbol === members.at(-1)) return 'left';
  return wholeAfter(first, symbol, fraction(2, symbol.value.base)) ? 'right' : 'left';
};
