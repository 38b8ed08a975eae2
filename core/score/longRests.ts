import { add, atMost, equal, type Fraction, less } from '../foundation/fraction.ts';
import { endingsIn, endingsOf } from './endings.ts';
import type { RepeatedBars, Score, ScoreBar } from './score.ts';

/**
 * A player's part with bars of silence in a row written as one long rest with their number, as parts are
 * (common practice, no source). A rehearsal letter, a new tempo or metre, a repeat barline and an ending always begin or end one,
 * so that a player who counts can find the place.
 * @param score of one part, or of several that rest together
 */
export const withLongRests = (score: Score): Score => {
  const silent = (index: number): boolean =>
    score.parts.every(part => {
      const bar = part.bars[index];
      return bar !== undefined && bar.symbols.length === 1 && bar.symbols[0]?.wholeBar === true;
    });
  const lengthOf = (index: number): Fraction | undefined => score.parts[0]?.bars[index]?.length;
  const begins = (index: number): boolean => {
    const start = score.parts[0]?.bars[index]?.start;
    const before = lengthOf(index - 1);
    const now = lengthOf(index);
    return (
      score.letters.some(l => l.bar === index) ||
      score.keys?.some(k => k.bar === index) === true ||
      score.metres?.some(m => m.bar === index) === true ||
      (score.tempi ?? []).some(change => start !== undefined && equal(change.at, start)) ||
      (score.slowings ?? []).some(s => start !== undefined && less(start, s.to) && atMost(s.from, start)) ||
      score.repeats?.some(r => r.bar === index || r.bar + r.bars === index) === true ||
      endingsIn(score).some(e => e.first === index || e.last + 1 === index) ||
      before === undefined ||
      now === undefined ||
      // An upbeat, or a last bar shortened by one, is no bar to count.
      !equal(before, now)
    );
  };
  const runs: { first: number; bars: number }[] = [];
  for (let index = 0; index < score.barCount; index++) {
    const last = runs.at(-1);
    const goesOn = last !== undefined && silent(index) && silent(index - 1) && !begins(index);
    if (goesOn) last.bars += 1;
    else runs.push({ first: index, bars: 1 });
  }
  const placeOf = (bar: number): number =>
    runs.findIndex(run => bar >= run.first && bar < run.first + run.bars);
  const merged = (bars: readonly ScoreBar[]): readonly ScoreBar[] =>
    runs.flatMap((run, index) => {
      const bar = bars[run.first];
      if (bar === undefined) return [];
      if (run.bars === 1) return [{ ...bar, index }];
      const length = bars
        .slice(run.first + 1, run.first + run.bars)
        .reduce((so, b) => add(so, b.length), bar.length);
      return [{ ...bar, index, length, symbols: [], tuplets: [], beams: [], restBars: run.bars }];
    });
  return {
    ...score,
    barCount: runs.length,
    letters: score.letters.map(l => ({ ...l, bar: placeOf(l.bar) })),
    ...(score.keys === undefined ? {} : { keys: score.keys.map(k => ({ ...k, bar: placeOf(k.bar) })) }),
    ...(score.metres === undefined ? {} : { metres: score.metres.map(m => ({ ...m, bar: placeOf(m.bar) })) }),
    ...(score.repeats === undefined
      ? {}
      : {
          repeats: score.repeats.map(r => ({
            ...r,
            bar: placeOf(r.bar),
            bars: placeOf(r.bar + r.bars - 1) - placeOf(r.bar) + 1,
            ...endingsAt(r, placeOf),
          })),
        }),
    parts: score.parts.map(part => ({ ...part, bars: merged(part.bars) })),
  };
};

/** The endings of a repeat where bars have other places. */
const endingsAt = (repeat: RepeatedBars, placeOf: (bar: number) => number): Pick<RepeatedBars, 'endings'> => {
  const [first, last] = endingsOf(repeat).map(e => placeOf(e.last) - placeOf(e.first) + 1);
  return first === undefined || last === undefined ? {} : { endings: { first, last } };
};
