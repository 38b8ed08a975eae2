import type { Seconds } from '../foundation/units.ts';
import { isBounce } from './bounce.ts';
import type { Strike, Take } from './take.ts';

/**
 * What may be a roll. Rolls of mallet players have some 10 to 20 strokes a second and keep no time (common
 * practice, no source); pupils' hands go up to 8 or 10. Faster than 8 a second one bar is hardly struck in time
 * (`facts.md`: 8 a hard cap for beginners, from memory).
 */
export const FAST_RUN = {
  /** Seconds from stroke to stroke, on average, of a run of at least so many strokes on one bar. */
  oneBar: { mean: 0.105, fewest: 5 },
  /** The same for a longer run: slower rolls are known by their length. */
  longOnOneBar: { mean: 0.125, fewest: 6 },
  /** The same for two bars struck in turn; semiquavers often go to and fro. */
  twoBars: { mean: 0.105, fewest: 6 },
  /** Seconds between two strokes of one run, at most. Our choice. */
  longest: 0.16 as Seconds,
  /** A gap so many times the middle one of its run ends it: what follows is another note. Our choice. */
  break: 1.7,
};

/** Strokes on one bar, or on two in turn, that may be one note rolled: indices into the take's strikes, in order of time. */
export type FastRun = readonly number[];

/**
 * Runs of strokes on one bar, or on two bars in turn, so fast that they may be a roll; whether they keep time is for
 * whoever knows the beat. No strike is in two runs. Time grows with the number of strikes.
 * @param keep strikes that are notes of their own: of a run only the first stroke on each bar may be one
 * @example
 * const strikes = [0, 80, 160, 240, 320, 900].map(ms => ({ at: ms / 1000, pitch: 60, velocity: 80 }));
 * fastRuns({ strikes }) // => [[0, 1, 2, 3, 4]]
 */
export const fastRuns = (
  { strikes }: Pick<Take, 'strikes'>,
  keep: ReadonlySet<number> = new Set(),
): readonly FastRun[] => {
  const at = (i: number | undefined): Seconds => strikes[i ?? -1]?.at ?? NaN;
  const pitch = (i: number | undefined): number | undefined => strikes[i ?? -1]?.pitch;
  const order = strikes
    .map((_, i) => i)
    .filter(i => Number.isFinite(at(i)))
    .sort((a, b) => at(a) - at(b) || a - b)
    .filter(isStroke(strikes, keep));
  const found: FastRun[] = [];
  let from = 0;
  while (from + 1 < order.length) {
    const [a, b] = [pitch(order[from]), pitch(order[from + 1])];
    let to = from + 1;
    while (
      to < order.length &&
      at(order[to]) - at(order[to - 1]) <= FAST_RUN.longest &&
      pitch(order[to]) === ((to - from) % 2 === 0 ? a : b)
    )
      to++;
    const pieces = parted(order.slice(from, to), at);
    const firsts = a === b ? 1 : 2;
    found.push(
      ...pieces.filter(run => isFast(run, a === b, at) && !run.slice(firsts).some(i => keep.has(i))),
    );
    // The last stroke of one stretch may begin another, unless it is in a run.
    from = to - from === 1 || found.at(-1)?.at(-1) === order[to - 1] ? to : to - 1;
  }
  return found;
};

/** Tells strokes from bounces of the one before on the same bar: those would make a roll of notes in time. */
const isStroke = (strikes: Take['strikes'], keep: ReadonlySet<number>): ((i: number) => boolean) => {
  const lastOn = new Map<number, Strike>();
  return i => {
    const strike = strikes[i];
    if (strike === undefined) return false;
    const last = lastOn.get(strike.pitch);
    if (last !== undefined && !keep.has(i) && isBounce(strike.at - last.at, strike.velocity, last.velocity))
      return false;
    lastOn.set(strike.pitch, strike);
    return true;
  };
};

/** A stretch parted where the player waited. */
const parted = (stretch: readonly number[], at: (i: number | undefined) => Seconds): number[][] => {
  const gaps = stretch.slice(1).map((s, k) => at(s) - at(stretch[k]));
  const middle = [...gaps].sort((x, y) => x - y)[gaps.length >> 1] ?? 0;
  const pieces: number[][] = [];
  stretch.forEach((s, k) => {
    const last = pieces.at(-1);
    if (last === undefined || (gaps[k - 1] ?? 0) > FAST_RUN.break * middle) pieces.push([s]);
    else last.push(s);
  });
  return pieces;
};

const isFast = (run: FastRun, onOneBar: boolean, at: (i: number | undefined) => Seconds): boolean => {
  const mean = (at(run.at(-1)) - at(run[0])) / (run.length - 1);
  const kinds = onOneBar ? [FAST_RUN.oneBar, FAST_RUN.longOnOneBar] : [FAST_RUN.twoBars];
  return kinds.some(kind => run.length >= kind.fewest && mean <= kind.mean);
};

/**
 * When a roll ends: as long after its last stroke as one stroke lasts.
 * @param at when its strokes fell, in seconds, rising; at least two
 * @example
 * rollEnd([0, 0.25, 0.5]) // => 0.75
 */
export const rollEnd = (at: readonly Seconds[]): Seconds => {
  const [first = 0, last = 0] = [at[0], at.at(-1)];
  return last + (last - first) / (at.length - 1);
};
