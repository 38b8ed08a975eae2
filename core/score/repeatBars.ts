import { add, atMost, equal, type Fraction, less, subtract } from '../foundation/fraction.ts';
import { holdsIn } from './holds.ts';
import { withBars } from './repeats.ts';
import type { RepeatedBars, Score, ScorePart, ScoreSymbol } from './score.ts';

const sameSymbol = (a: ScoreSymbol, b: ScoreSymbol, by: Fraction): boolean =>
  equal(add(a.onset, by), b.onset) && soundOf(a) === soundOf(b);

/** Everything that is written but the place, the refs, and signs that only remind. */
const soundOf = (symbol: ScoreSymbol): string =>
  JSON.stringify([
    symbol.duration,
    symbol.value,
    symbol.pitches.map(p => p.spelled),
    symbol.tiedFrom,
    symbol.tiedTo,
    symbol.grace,
    symbol.articulation,
    symbol.dynamic,
    symbol.hairpin,
    symbol.hairpinEnds,
    symbol.slur,
    symbol.fermata,
    symbol.words,
  ]);

const sameBar = (part: ScorePart, a: number, b: number): boolean => {
  const one = part.bars[a];
  const two = part.bars[b];
  if (one === undefined || two === undefined || one.symbols.length !== two.symbols.length) return false;
  if (!equal(one.length, two.length) || one.number === 0) return false;
  const by = subtract(two.start, one.start);
  return one.symbols.every((symbol, i) => {
    const other = two.symbols[i];
    return other !== undefined && sameSymbol(symbol, other, by);
  });
};

const sameRun = (score: Score, a: number, b: number, bars: number): boolean =>
  score.parts.every(part =>
    Array.from({ length: bars }, (_, i) => i).every(i => sameBar(part, a + i, b + i)),
  );

/** Nothing is held into or out of a run, and nothing new is named inside its restatements. */
const mayBeRepeated = (score: Score, bar: number, bars: number, times: number): boolean => {
  const first = score.parts[0]?.bars[bar];
  const second = score.parts[0]?.bars[bar + bars];
  const last = score.parts[0]?.bars[bar + bars * times - 1];
  if (first === undefined || second === undefined || last === undefined) return false;
  const end = add(last.start, last.length);
  const within = (at: Fraction): boolean => atMost(second.start, at) && less(at, end);
  if (score.tempi?.some(t => atMost(first.start, t.at) && less(t.at, end)) === true) return false;
  if (score.slowings?.some(s => less(first.start, s.to) && less(s.from, end)) === true) return false;
  if (score.letters.some(l => l.bar >= bar + bars && l.bar < bar + bars * times)) return false;
  if (score.brackets.some(b => within(b.from) || (less(second.start, b.to) && less(b.to, end)))) return false;
  return score.parts.every(
    part =>
      part.bars[bar]?.symbols[0]?.tiedFrom !== true &&
      part.bars[bar + bars - 1]?.symbols.at(-1)?.tiedTo !== true,
  );
};

/** The longest stretch that a repeat starting at this bar saves, the shortest run first. */
const repeatAt = (score: Score, bar: number): RepeatedBars | undefined => {
  let best: RepeatedBars | undefined;
  for (let bars = 1; bar + 2 * bars <= score.barCount; bars++) {
    let times = 1;
    while (bar + (times + 1) * bars <= score.barCount && sameRun(score, bar, bar + times * bars, bars))
      times++;
    while (times > 1 && !mayBeRepeated(score, bar, bars, times)) times--;
    if (times < 2) continue;
    const saved = bars * (times - 1);
    if (best === undefined || saved > best.bars * (best.times - 1)) best = { bar, bars, times };
  }
  return best;
};

/**
 * The same score with statements that come again straight away, whole bars alike in every part,
 * written once between repeat barlines. Sound and files play them as often as before.
 */
export const withRepeatBars = (score: Score): Score => {
  if (score.repeats !== undefined) return score;
  const order: number[] = [];
  const repeats: RepeatedBars[] = [];
  const newBar = new Map<number, number>();
  for (let bar = 0; bar < score.barCount;) {
    const found = repeatAt(score, bar);
    if (found !== undefined) repeats.push({ ...found, bar: order.length });
    const bars = found?.bars ?? 1;
    for (let i = 0; i < bars; i++) {
      newBar.set(bar + i, order.length);
      order.push(bar + i);
    }
    bar += bars * (found?.times ?? 1);
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
