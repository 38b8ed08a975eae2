import { type Fraction, toNumber } from '../foundation/fraction.ts';
import { lastUpTo } from '../foundation/lastUpTo.ts';
import type { Score, ScoreBar, ScorePart, ScoreSymbol } from './score.ts';

/** Bars that come again, as they stand written out; the last time they may end otherwise. */
export interface RunOfBars {
  readonly bar: number;
  /** How many bars a time. */
  readonly bars: number;
  readonly times: number;
  /** How many bars at the end of the last time are not those of the times before; 0 for none. */
  readonly other: number;
}

/** Running totals over the bars of one part: what lies in a stretch is the difference of two of them. */
interface Totals {
  readonly slurs: readonly number[];
  readonly hairpins: readonly number[];
  readonly pedals: readonly number[];
  readonly sounding: readonly number[];
  readonly heldOver: readonly boolean[];
  readonly heldOn: readonly boolean[];
}

const totals = (bars: readonly ScoreBar[], count: (bar: ScoreBar) => number): readonly number[] => {
  const all = [0];
  for (const bar of bars) all.push((all.at(-1) ?? 0) + count(bar));
  return all;
};

const sum = (bar: ScoreBar, of: (symbol: ScoreSymbol) => number): number =>
  bar.symbols.reduce((so, symbol) => so + of(symbol), 0);

/** Whether a tie or the line of a glissando comes to a symbol from before, or leads on from it. */
const goesOver = (symbol: ScoreSymbol): boolean =>
  symbol.tiedFrom || symbol.pitches.some(p => p.endsGliss === true);
const goesOn = (symbol: ScoreSymbol): boolean =>
  symbol.tiedTo || symbol.pitches.some(p => p.gliss !== undefined && p.smallEnd === undefined);

const totalsOf = ({ bars }: ScorePart): Totals => ({
  slurs: totals(bars, bar => sum(bar, s => (s.slur === undefined ? 0 : s.slur === 'start' ? 1 : -1))),
  hairpins: totals(bars, bar =>
    sum(bar, s => (s.hairpin === undefined ? 0 : 1) - (s.hairpinEnds === true ? 1 : 0)),
  ),
  pedals: totals(bars, bar => sum(bar, s => (s.pedal === true ? 1 : 0) - (s.pedalEnds === true ? 1 : 0))),
  sounding: totals(bars, bar => sum(bar, s => s.pitches.length)),
  heldOver: bars.map(({ symbols: [first] }) => first !== undefined && goesOver(first)),
  heldOn: bars.map(bar => bar.symbols.slice(-1).some(goesOn)),
});

/** Sorted places, and how many of them lie from one place up to before another. */
const places = (all: readonly number[]): ((from: number, before: number) => number) => {
  const sorted = [...all].sort((a, b) => a - b);
  const upTo = (place: number): number => lastUpTo(sorted, n => n, place);
  // Places are written in beats: nothing lies nearer to a barline than this without lying on it.
  const just = (place: number): number => place - 1e-9;
  return (from, before) => Math.max(0, upTo(just(before)) - upTo(just(from)));
};

/**
 * Whether bars that come again may stand between repeat barlines: nothing is held, slurred or swelling into or out of
 * them, they begin with the idea and not in the middle of it, nothing new is named, marked or begun inside what is not
 * written again, and no slur or hairpin goes over into an ending. Asked as often as
 * there are runs, so the score is gone through once.
 */
export const repeatable = (score: Score): ((run: RunOfBars) => boolean) => {
  const bars = score.parts[0]?.bars ?? [];
  const last = bars.at(-1);
  const starts = bars.map(bar => toNumber(bar.start));
  const end = last === undefined ? 0 : toNumber(last.start) + toNumber(last.length);
  const placeOf = (index: number): number => starts[index] ?? end;
  const at = (all: readonly Fraction[]): ((from: number, before: number) => number) =>
    places(all.map(toNumber));
  const tempi = at((score.tempi ?? []).map(t => t.at));
  const keys = places((score.keys ?? []).map(k => k.bar));
  const metres = places((score.metres ?? []).map(m => m.bar));
  const letters = places(score.letters.map(l => l.bar));
  const begins = at(score.brackets.map(b => b.from));
  const ends = at(score.brackets.map(b => b.to));
  const slowings = (score.slowings ?? [])
    .map(s => ({ from: toNumber(s.from), to: toNumber(s.to) }))
    .sort((a, b) => a.from - b.from);
  // How far those that have begun reach.
  const slowUntil = slowings.map(s => s.to);
  slowUntil.forEach((to, i) => (slowUntil[i] = Math.max(to, slowUntil[i - 1] ?? to)));
  const named = new Map<number, number[]>();
  for (const { from, to } of score.brackets) {
    const key = toNumber(from);
    named.set(key, [...(named.get(key) ?? []), toNumber(to)]);
  }
  const parts = score.parts.map(totalsOf);
  const stated = score.brackets.map(({ from, to }) => {
    const [begin, close] = [toNumber(from), toNumber(to)];
    // What has an upbeat begins with the bar it leads to.
    const first = lastUpTo(starts, s => s, begin + 1e-9);
    return { from: (starts[first] ?? 0) < begin - 1e-9 ? first + 1 : Math.max(0, first), begin, close };
  });
  const isAligned = (bar: number, long: number): boolean => {
    const place = placeOf(bar) + 1e-9;
    const here = stated.filter(s => s.begin <= place && place < s.close);
    return here.length === 0 || here.some(s => (bar - s.from) % long === 0);
  };
  const isOpen = (p: Totals, index: number): boolean =>
    [p.slurs, p.pedals, p.hairpins].some(open => open[index] !== 0);
  return ({ bar, bars: long, times, other }) => {
    const after = bar + long * times;
    const ending = after - other;
    const [first, second, lastTime] = [placeOf(bar), placeOf(bar + long), placeOf(after - long)];
    if (tempi(first, placeOf(after)) > 0) return false;
    if (!isAligned(bar, long)) return false;
    if (parts.some(p => isOpen(p, bar) || isOpen(p, bar + long))) return false;
    if (keys(bar + 1, after) > 0 || metres(bar + 1, after) > 0) return false;
    if (letters(bar + long, after) > 0) return false;
    // What only the last time has may be said over its own bars, and the statement that ends otherwise is named over it.
    const overEnding =
      other > 0 ? (named.get(lastTime) ?? []).filter(to => placeOf(after) <= to + 1e-9).length : 0;
    if (begins(second, placeOf(ending)) > overEnding) return false;
    if (ends(second + 2e-9, placeOf(ending)) > 0) return false;
    const slowing = slowUntil[lastUpTo(slowings, s => s.from, placeOf(ending) - 1e-9)];
    if (slowing !== undefined && first < slowing - 1e-9) return false;
    const common = ending - (after - long);
    return (
      parts.every(
        p =>
          [bar, bar + common, ending].every(index => index === after || p.heldOver[index] !== true) &&
          p.heldOn[bar + long - 1] !== true &&
          (other === 0 ||
            (p.slurs[bar + common] === p.slurs[bar] &&
              p.pedals[bar + common] === p.pedals[bar] &&
              p.hairpins[bar + common] === p.hairpins[bar])),
      ) &&
      (other === 0 || parts.some(p => p.sounding[bar + common] !== p.sounding[bar]))
    );
  };
};
