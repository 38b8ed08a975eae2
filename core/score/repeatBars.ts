import { add, atMost, equal, type Fraction, less, subtract, ZERO } from '../foundation/fraction.ts';
import type { MalletId } from '../instruments/mallets.ts';
import { holdsIn } from './holds.ts';
import { wordsBesideMallet } from './malletMark.ts';
import { changesMetre } from './metreAt.ts';
import { withBars } from './repeats.ts';
import type { Bracket, RepeatedBars, Score, ScoreBar, ScorePart, ScoreSymbol } from './score.ts';

const sameSymbol = (a: ScoreSymbol, b: ScoreSymbol, by: Fraction, mallet: MalletId | undefined): boolean =>
  equal(add(a.onset, by), b.onset) && soundOf(a, mallet) === soundOf(b, mallet);

/** Everything that is written but the place, the refs, the part's mallets, and signs that only remind. */
const soundOf = (symbol: ScoreSymbol, mallet: MalletId | undefined): string =>
  JSON.stringify([
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
    symbol.fermata,
    symbol.roll,
    symbol.ring,
    symbol.dead,
    wordsBesideMallet(mallet, symbol.words),
  ]);

const sameBar = (part: ScorePart, a: number, b: number): boolean => {
  const one = part.bars[a];
  const two = part.bars[b];
  if (one === undefined || two === undefined || one.symbols.length !== two.symbols.length) return false;
  if (!equal(one.length, two.length) || one.number === 0) return false;
  const by = subtract(two.start, one.start);
  return one.symbols.every((symbol, i) => {
    const other = two.symbols[i];
    return other !== undefined && sameSymbol(symbol, other, by, part.mallet);
  });
};

const sameRun = (score: Score, a: number, b: number, bars: number): boolean =>
  score.parts.every(part =>
    Array.from({ length: bars }, (_, i) => i).every(i => sameBar(part, a + i, b + i)),
  );

/** Bars that come again, as they stand written out; the last time they may end otherwise. */
interface Run {
  readonly bar: number;
  /** How many bars a time. */
  readonly bars: number;
  readonly times: number;
  /** How many bars at the end of the last time are not those of the times before; 0 for none. */
  readonly other: number;
}

/** How many bars are written less. */
const savedBy = ({ bars, times, other }: Run): number => bars * (times - 1) - other;

/** Where bar `index` of the score begins, or where the last one ends. */
const placeOf = (score: Score, index: number): Fraction => {
  const bars = score.parts[0]?.bars ?? [];
  const last = bars.at(-1);
  return bars[index]?.start ?? (last === undefined ? ZERO : add(last.start, last.length));
};

/** What the bars a repeat ends with may be cut from: no slur or hairpin goes over into them. */
const isSettled = (bars: readonly ScoreBar[]): boolean => {
  let slurs = 0;
  let hairpins = 0;
  for (const symbol of bars.flatMap(bar => bar.symbols)) {
    if (symbol.slur !== undefined) slurs += symbol.slur === 'start' ? 1 : -1;
    if (symbol.hairpin !== undefined) hairpins += 1;
    if (symbol.hairpinEnds === true) hairpins -= 1;
  }
  return slurs === 0 && hairpins === 0;
};

const isSilent = (bars: readonly ScoreBar[]): boolean =>
  bars.every(bar => bar.symbols.every(symbol => symbol.pitches.length === 0));

/** Nothing is held into or out of a run, and nothing new is named inside its restatements. */
const mayBeRepeated = (score: Score, run: Run): boolean => {
  const { bar, bars, other } = run;
  const after = bar + bars * run.times;
  const first = placeOf(score, bar);
  const second = placeOf(score, bar + bars);
  const lastTime = placeOf(score, after - bars);
  const ending = placeOf(score, after - other);
  const end = placeOf(score, after);
  // What only the last time has may be said over its own bars.
  const inEnding = (at: Fraction): boolean => atMost(ending, at);
  if (score.tempi?.some(t => atMost(first, t.at) && less(t.at, end)) === true) return false;
  if (score.slowings?.some(s => less(first, s.to) && less(s.from, end) && !inEnding(s.from)) === true)
    return false;
  if (score.keys?.some(k => k.bar > bar && k.bar < after) === true) return false;
  if (changesMetre(score, bar, after)) return false;
  if (score.letters.some(l => l.bar >= bar + bars && l.bar < after)) return false;
  // The statement that ends otherwise is named over the bars in which it does.
  const named = (b: Bracket): boolean =>
    inEnding(b.from) || (other > 0 && equal(b.from, lastTime) && atMost(end, b.to));
  const begins = (b: Bracket): boolean => atMost(second, b.from) && less(b.from, end);
  const ends = (b: Bracket): boolean => less(second, b.to) && less(b.to, end);
  if (score.brackets.some(b => (begins(b) && !named(b)) || (ends(b) && !inEnding(b.to)))) return false;
  const common = score.parts.map(part => part.bars.slice(bar, bar + bars - other));
  if (other > 0 && (common.every(isSilent) || !common.every(isSettled))) return false;
  return score.parts.every(
    ({ bars: all }) =>
      [bar, bar + bars - other, after - other].every(
        index => index === after || all[index]?.symbols[0]?.tiedFrom !== true,
      ) && all[bar + bars - 1]?.symbols.at(-1)?.tiedTo !== true,
  );
};

/** The longest stretch that a repeat starting at this bar saves, the shortest run first, one without endings first. */
const repeatAt = (score: Score, bar: number): Run | undefined => {
  let best: Run | undefined;
  const offer = (run: Run): void => {
    if (run.times > 1 && mayBeRepeated(score, run) && savedBy(run) > (best === undefined ? 0 : savedBy(best)))
      best = run;
  };
  for (let bars = 1; bar + bars < score.barCount; bars++) {
    let whole = 1;
    while (bar + (whole + 1) * bars <= score.barCount && sameRun(score, bar, bar + whole * bars, bars))
      whole++;
    for (let times = whole; times > 1; times--) offer({ bar, bars, times, other: 0 });
    if (bar + (whole + 1) * bars > score.barCount) continue;
    // At least as much comes again as ends otherwise.
    for (let other = 1; 2 * other <= bars; other++) {
      if (!sameRun(score, bar, bar + whole * bars, bars - other)) continue;
      offer({ bar, bars, times: whole + 1, other });
      break;
    }
  }
  return best;
};

/**
 * The same score with statements that come again straight away, whole bars alike in every part,
 * written once between repeat barlines, with first- and second-time bars where only the end differs. Sound and
 * files play them as often as before.
 */
export const withRepeatBars = (score: Score): Score => {
  if (score.repeats !== undefined) return score;
  const order: number[] = [];
  const repeats: RepeatedBars[] = [];
  const newBar = new Map<number, number>();
  const write = (from: number, count: number): void => {
    for (let bar = from; bar < from + count; bar++) {
      newBar.set(bar, order.length);
      order.push(bar);
    }
  };
  for (let bar = 0; bar < score.barCount;) {
    const found = repeatAt(score, bar);
    const { bars, times, other } = found ?? { bars: 1, times: 1, other: 0 };
    if (found !== undefined) {
      repeats.push({
        bar: order.length,
        bars,
        times,
        ...(other === 0 ? {} : { endings: { first: other, last: other } }),
      });
    }
    const after = bar + bars * times;
    write(bar, bars);
    write(after - other, other);
    bar = after;
  }
  if (repeats.length === 0) return score;
  const folded = withBars(score, order);
  const place = (at: Fraction): Fraction => foldedPlace(score, folded, order, at);
  return {
    ...folded,
    repeats,
    letters: score.letters.flatMap(l => {
      const bar = newBar.get(l.bar);
      return bar === undefined ? [] : [{ ...l, bar }];
    }),
    brackets: score.brackets.map(b => ({ ...b, from: place(b.from), to: place(b.to) })),
    ...(score.tempi === undefined ? {} : { tempi: score.tempi.map(t => ({ ...t, at: place(t.at) })) }),
    ...(score.slowings === undefined
      ? {}
      : { slowings: score.slowings.map(s => ({ from: place(s.from), to: place(s.to) })) }),
    ...(score.holds === undefined ? {} : { holds: holdsIn(folded.parts) }),
  };
};

/** Where a place of the written-out score stands once repeats are folded; ends of repeats fall on their last barline. */
const foldedPlace = (score: Score, folded: Score, order: readonly number[], at: Fraction): Fraction => {
  let found: Fraction = at;
  order.forEach((from, index) => {
    const written = score.parts[0]?.bars[from];
    const now = folded.parts[0]?.bars[index];
    if (written === undefined || now === undefined || less(at, written.start)) return;
    const inside = subtract(at, written.start);
    found = add(now.start, less(written.length, inside) ? written.length : inside);
  });
  return found;
};
