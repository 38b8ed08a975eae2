import { type Fraction, show, subtract } from '../foundation/fraction.ts';
import type { MalletId } from '../instruments/mallets.ts';
import { wordsBesideMallet } from './malletMark.ts';
import type { ScoreBar, ScorePart, ScoreSymbol } from './score.ts';

/** Everything that is written but the place, the refs, the part's mallets, and signs that only remind. */
const soundOf = (symbol: ScoreSymbol, start: Fraction, mallet: MalletId | undefined): unknown[] => [
  show(subtract(symbol.onset, start)),
  symbol.duration,
  symbol.value,
  symbol.pitches.map(p => [p.spelled, p.gliss, p.endsGliss, p.smallEnd]),
  symbol.tiedFrom,
  symbol.tiedTo,
  symbol.grace,
  symbol.ruff,
  symbol.articulation,
  symbol.dynamic,
  symbol.hairpin,
  symbol.hairpinEnds,
  symbol.slur,
  symbol.pedal,
  symbol.pedalEnds,
  symbol.fermata,
  symbol.roll,
  symbol.ring,
  symbol.dead,
  wordsBesideMallet(mallet, symbol.words),
];

const barText = (bar: ScoreBar, mallet: MalletId | undefined): string =>
  // An upbeat is like no other bar.
  bar.number === 0
    ? 'upbeat'
    : JSON.stringify([show(bar.length), bar.symbols.map(symbol => soundOf(symbol, bar.start, mallet))]);

/**
 * A number for each bar: two bars have the same one where all parts have the same written in both.
 * @param parts with as many bars each
 */
export const barNumbers = (parts: readonly ScorePart[]): readonly number[] => {
  const known = new Map<string, number>();
  const numbered = (text: string): number => {
    const found = known.get(text) ?? known.size;
    known.set(text, found);
    return found;
  };
  const own = parts.map(part => part.bars.map(bar => numbered(barText(bar, part.mallet))));
  return (own[0] ?? []).map((_, i) => numbered(own.map(numbers => numbers[i]).join(' ')));
};

/**
 * How many bars from a place on are those that stand so many bars later, for each distance and place: each worked
 * out once, from the last bar to the first.
 * @param numbers of bars, from `barNumbers`
 * @param longest distance asked for, in bars
 */
export const barsAgain = (
  numbers: readonly number[],
  longest: number,
): ((bar: number, later: number) => number) => {
  const rows = Array.from({ length: Math.min(longest, numbers.length) + 1 }, (_, later) => {
    const row = new Uint16Array(numbers.length + 1);
    if (later > 0)
      for (let bar = numbers.length - later - 1; bar >= 0; bar--)
        row[bar] = numbers[bar] === numbers[bar + later] ? (row[bar + 1] ?? 0) + 1 : 0;
    return row;
  });
  return (bar, later) => rows[later]?.[bar] ?? 0;
};
