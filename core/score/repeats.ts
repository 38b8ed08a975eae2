import { add, atMost, type Fraction, less, subtract, ZERO } from '../foundation/fraction.ts';
import { keyAt } from './keyAt.ts';
import { metresOf } from './metreAt.ts';
import type { RepeatedBars, Score, ScoreBar, ScorePart, ScoreSymbol, Stretch, TempoChange } from './score.ts';

/**
 * Index of each written bar in the order they are played.
 * @example
 * playingOrder(3, [{ bar: 0, bars: 2, times: 2 }]) // => [0, 1, 0, 1, 2]
 * playingOrder(3, [{ bar: 0, bars: 2, times: 2, endings: { first: 1, last: 1 } }]) // => [0, 1, 0, 2]
 */
export const playingOrder = (barCount: number, repeats: readonly RepeatedBars[]): readonly number[] => {
  const order: number[] = [];
  for (let bar = 0; bar < barCount;) {
    const found = repeats.find(r => r.bar === bar);
    const bars = found?.bars ?? 1;
    const times = found?.times ?? 1;
    for (let time = 1; time <= times; time++) {
      const left = time === times ? (found?.endings?.first ?? 0) : 0;
      for (let i = 0; i < bars - left; i++) order.push(bar + i);
    }
    bar += bars;
  }
  return order;
};

const movedSymbol = (symbol: ScoreSymbol, by: Fraction): ScoreSymbol => ({
  ...symbol,
  onset: add(symbol.onset, by),
});

const movedBar = (bar: ScoreBar, index: number, at: Fraction): ScoreBar => {
  const by = subtract(at, bar.start);
  return {
    ...bar,
    index,
    number: bar.number === 0 ? 0 : bar.number - bar.index + index,
    start: at,
    symbols: bar.symbols.map(symbol => movedSymbol(symbol, by)),
    tuplets: bar.tuplets.map(tuplet => ({ ...tuplet, onset: add(tuplet.onset, by) })),
  };
};

/** A score with these bars of it, one after the other, at new places. */
export const withBars = (score: Score, order: readonly number[]): Score => {
  const parts = score.parts.map((part): ScorePart => {
    let at = part.bars[0]?.start ?? ZERO;
    return {
      ...part,
      bars: order.flatMap((from, index) => {
        const bar = part.bars[from];
        if (bar === undefined) return [];
        const moved = movedBar(bar, index, at);
        at = add(at, bar.length);
        return [moved];
      }),
    };
  });
  const { keys: _, metres: __, ...rest } = score;
  return { ...rest, ...keysOf(score, order), ...metresOf(score, order), parts, barCount: order.length };
};

/** The keys of these bars of a score, one after the other; nothing where it has but one. */
const keysOf = (score: Score, order: readonly number[]): Pick<Score, 'keys'> => {
  if (score.keys === undefined) return {};
  const all = order.map(from => keyAt(score, from));
  const keys = all.flatMap((key, bar) => (bar > 0 && key !== all[bar - 1] ? [{ bar, key }] : []));
  return keys.length === 0 ? {} : { keys };
};

/** Every metronome mark each time its bar is played. */
const tempiIn = (score: Score, out: Score, order: readonly number[]): readonly TempoChange[] =>
  order.flatMap((from, index) => {
    const written = score.parts[0]?.bars[from];
    const played = out.parts[0]?.bars[index];
    if (written === undefined || played === undefined) return [];
    const end = add(written.start, written.length);
    return (score.tempi ?? [])
      .filter(t => atMost(written.start, t.at) && less(t.at, end))
      .map(t => ({ ...t, at: add(t.at, subtract(played.start, written.start)) }));
  });

/** Stretches each time the bar in which they begin is played. */
const stretchesIn = (
  stretches: readonly Stretch[],
  score: Score,
  out: Score,
  order: readonly number[],
): readonly Stretch[] =>
  order.flatMap((from, index) => {
    const written = score.parts[0]?.bars[from];
    const played = out.parts[0]?.bars[index];
    if (written === undefined || played === undefined) return [];
    const by = subtract(played.start, written.start);
    const end = add(written.start, written.length);
    return stretches
      .filter(s => atMost(written.start, s.from) && less(s.from, end))
      .map(s => ({ from: add(s.from, by), to: add(s.to, by) }));
  });

/**
 * A score with its repeats written out, as it is played. Words over the stave and letters stay
 * with the written score and are dropped here: only sound and MIDI files need this.
 */
export const playedOut = (score: Score): Score => {
  if (score.repeats === undefined || score.repeats.length === 0) return score;
  const order = playingOrder(score.barCount, score.repeats);
  const { repeats: _repeats, ...rest } = withBars(score, order);
  const tempi = tempiIn(score, rest, order);
  return {
    ...rest,
    letters: [],
    brackets: [],
    ...(score.tempi === undefined ? {} : { tempi }),
    ...(score.slowings === undefined ? {} : { slowings: stretchesIn(score.slowings, score, rest, order) }),
    ...(score.holds === undefined ? {} : { holds: stretchesIn(score.holds, score, rest, order) }),
  };
};
