import { add, type Fraction, less, subtract, toNumber } from '../foundation/fraction.ts';
import { lastUpTo } from '../foundation/lastUpTo.ts';
import { holdsIn } from './holds.ts';
import { repeatable, type RunOfBars } from './repeatable.ts';
import { withBars } from './repeats.ts';
import { barNumbers, barsAgain } from './sameBars.ts';
import type { RepeatedBars, Score } from './score.ts';

/** Most bars between repeat barlines: what is longer is written out, so that every piece is folded in time that grows with its bars. */
const LONGEST = 128;

/** How many bars are written less. */
const savedBy = ({ bars, times, other }: RunOfBars): number => bars * (times - 1) - other;

/** How often a run may be played, at most as often as it comes: what is in the way of fewer times is in the way of more. */
const mostTimes = (run: RunOfBars, mayBe: (run: RunOfBars) => boolean): number => {
  let [least, most] = [1, run.times];
  while (least < most) {
    const middle = Math.ceil((least + most) / 2);
    if (mayBe({ ...run, times: middle })) least = middle;
    else most = middle - 1;
  }
  return least;
};

/** For each bar the longest stretch that a repeat starting there saves, the shortest run first, one without endings first. */
const repeatsIn = (score: Score): ((bar: number) => RunOfBars | undefined) => {
  const again = barsAgain(barNumbers(score.parts), LONGEST);
  const mayBe = repeatable(score);
  return bar => {
    let best: RunOfBars | undefined;
    const offer = (run: RunOfBars): void => {
      if (savedBy(run) > (best === undefined ? 0 : savedBy(best)) && mayBe(run)) best = run;
    };
    for (let bars = 1; bars <= LONGEST && bar + bars < score.barCount; bars++) {
      const alike = again(bar, bars);
      const whole = 1 + Math.floor(alike / bars);
      const times = mostTimes({ bar, bars, times: whole, other: 0 }, mayBe);
      if (times > 1) offer({ bar, bars, times, other: 0 });
      // At least as much comes again as ends otherwise.
      const other = bars - (alike % bars);
      if (bar + (whole + 1) * bars <= score.barCount && 2 * other <= bars)
        offer({ bar, bars, times: whole + 1, other });
    }
    return best;
  };
};

/**
 * The same score with statements that come again straight away, whole bars alike in every part,
 * written once between repeat barlines, with first- and second-time bars where only the end differs. Sound and
 * files play them as often as before.
 */
export const withRepeatBars = (score: Score): Score => {
  if (score.repeats !== undefined) return score;
  const repeatAt = repeatsIn(score);
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
    const found = repeatAt(bar);
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
  const place = foldedPlaces(score, folded, order);
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
const foldedPlaces = (
  score: Score,
  folded: Score,
  order: readonly number[],
): ((at: Fraction) => Fraction) => {
  const bars = order.flatMap((from, index) => {
    const written = score.parts[0]?.bars[from];
    const now = folded.parts[0]?.bars[index];
    return written === undefined || now === undefined ? [] : [{ written, now }];
  });
  return at => {
    const here = bars[lastUpTo(bars, ({ written }) => toNumber(written.start), toNumber(at))];
    if (here === undefined) return at;
    const inside = subtract(at, here.written.start);
    return add(here.now.start, less(here.written.length, inside) ? here.written.length : inside);
  };
};
