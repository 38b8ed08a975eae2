import {
  add,
  divide,
  type Fraction,
  fraction,
  less,
  multiply,
  remainder,
  subtract,
  times,
  toNumber,
} from '../foundation/fraction.ts';
import { lastUpTo } from '../foundation/lastUpTo.ts';
import { tactus } from '../foundation/metre.ts';
import type { Seconds, Semibreves } from '../foundation/units.ts';
import type { Swing } from '../reading/model/reading.ts';
import type { Score } from '../score/score.ts';
import { heardTempi } from './pace.ts';

/**
 * Where a written place sounds when the written value swings: the first half of each pair takes
 * ratio/(1+ratio) of it. Exact, in semibreves; pairs are counted from the barline.
 * @example
 * swungOnset(fraction(1, 8), { ratio: 2, unit: fraction(1, 8) }) // => fraction(1, 6)
 */
export const swungOnset = (at: Fraction, swing: Swing | undefined): Fraction => {
  if (swing === undefined || swing.ratio === 1) return at;
  const pair = times(swing.unit, 2);
  const inside = remainder(at, pair);
  const start = subtract(at, inside);
  const thousandths = Math.round(swing.ratio * 1000);
  const long = multiply(pair, fraction(thousandths, 1000 + thousandths));
  const short = subtract(pair, long);
  const warped = less(inside, swing.unit)
    ? multiply(inside, divide(long, swing.unit))
    : add(long, multiply(subtract(inside, swing.unit), divide(short, swing.unit)));
  return add(start, warped);
};

type Timed = Pick<Score, 'metre' | 'tempo' | 'swing' | 'upbeat' | 'tempi' | 'slowings' | 'holds'>;

/** One tempo, from a place on, as it sounds. */
interface Stretch {
  /** From the first full barline. */
  readonly from: Semibreves;
  readonly seconds: Seconds;
  readonly secondsASemibreve: number;
}

const stretchesIn = (score: Timed): readonly Stretch[] => {
  const first = tactus(score.metre);
  const pace = (beat: Fraction, tempo: number): number => 60 / tempo / toNumber(beat);
  const all: Stretch[] = [
    { from: -toNumber(score.upbeat), seconds: 0, secondsASemibreve: pace(first, score.tempo) },
  ];
  for (const change of heardTempi(score)) {
    const before = all.at(-1);
    if (before === undefined) break;
    const from = toNumber(swungOnset(change.at, score.swing));
    const seconds = before.seconds + (from - before.from) * before.secondsASemibreve;
    all.push({ from, seconds, secondsASemibreve: pace(change.beat ?? first, change.tempo) });
  }
  return all;
};

/** Of scores already asked about, and a score never changes: every note of a page asks. */
const known = new WeakMap<Timed, readonly Stretch[]>();

const stretchesOf = (score: Timed): readonly Stretch[] => {
  const found = known.get(score) ?? stretchesIn(score);
  known.set(score, found);
  return found;
};

/**
 * Seconds from the start of the score to a place as it sounds, swing and all, each stretch at its own tempo.
 * @param played from the first full barline, in semibreves as they sound: half way through a swung pair is its middle
 * in time, not its second note
 */
export const secondsAsPlayed = (score: Timed, played: Semibreves): Seconds => {
  const all = stretchesOf(score);
  const here =
    all[
      Math.max(
        0,
        lastUpTo(all, s => s.from, played),
      )
    ];
  return here === undefined ? 0 : here.seconds + (played - here.from) * here.secondsASemibreve;
};

/**
 * Seconds from the start of the score to a place measured from its first bar, each stretch at its own tempo.
 * @example
 * const idea = { key: key('C'), metre: metre(4, 4), length: fraction(1), notes: [{ onset: fraction(0), duration: fraction(1, 4), degree: 28, alter: 0 }] };
 * const plan = firstPlan('xylophone', 90);
 * const score = scoreOfPlan(idea, plan, 'Idea', 'Heron');
 * secondsAtOnset({ ...score, tempo: 120 }, fraction(1, 2)) // => 1
 */
export const secondsAtOnset = (score: Timed, at: Fraction): Seconds =>
  secondsAsPlayed(score, toNumber(swungOnset(subtract(at, score.upbeat), score.swing)));
